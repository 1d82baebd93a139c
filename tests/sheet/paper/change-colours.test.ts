import { describe, expect, it } from 'vitest';
import { changeColour, changeColours, changeRange } from '@cast-to-last/sheet/paper/change-colours';

type Triple = readonly number[];

const linear = (c: number): number => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4);
/** CIE lightness L* of an sRGB colour (D65). */
const lightness = ([r, g, b]: Triple): number => 116 * Math.cbrt(0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)) - 16;

/**
 * What dichromats see, in linear sRGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based model
 * for simulation of color vision deficiency, IEEE TVCG 15 (2009), severity 1. Matrices from memory.
 */
const DEFICIENCIES: readonly (readonly [string, readonly number[]])[] = [
  ['protanopia', [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998]],
  ['deuteranopia', [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881]],
  ['tritanopia', [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039]],
];

/** CIELAB (D65) of linear sRGB. */
function lab(rgb: Triple): number[] {
  const [r, g, b] = rgb.map((c) => Math.min(1, Math.max(0, c)));
  const f = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const seen = (matrix: readonly number[], colour: Triple): number[] => {
  const c = colour.map(linear);
  return lab([0, 1, 2].map((r) => matrix[3 * r] * c[0] + matrix[3 * r + 1] * c[1] + matrix[3 * r + 2] * c[2]));
};

describe('change colours', () => {
  it('nothing is nearly white, and each way grows darker to its end', () => {
    expect(lightness(changeColour(0, 2))).toBeGreaterThan(94);
    for (const way of [-1, 1]) {
      for (let t = 0.1; t <= 1; t += 0.1) expect(lightness(changeColour(way * t, 1))).toBeLessThan(lightness(changeColour(way * (t - 0.1), 1)));
      expect(lightness(changeColour(way, 1))).toBeLessThan(40);
    }
  });
  it.each(DEFICIENCIES)('in and out are told apart from a tenth of the range on: %s', (_, matrix) => {
    for (let t = 0.1; t <= 1.001; t += 0.1) {
      const [a, b] = [seen(matrix, changeColour(-t, 1)), seen(matrix, changeColour(t, 1))];
      // A difference of 5 in CIELAB is seen at a glance; common practice, no source.
      expect(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]), `at ${t}`).toBeGreaterThan(5);
    }
  });
  it('stay at the ends beyond the range, and agree one by one with all at once', () => {
    expect(changeColour(9, 2)).toEqual(changeColour(2, 2));
    expect(changeColour(-9, 2)).toEqual(changeColour(-2, 2));
    expect(changeColour(1, 0)).toEqual(changeColour(0, 1));
    const changes = Float64Array.from([-3, -1, -0.2, 0, 0.4, 1.7, 5]);
    expect([...changeColours(changes, 2)]).toEqual([...changes].flatMap((c) => changeColour(c, 2)));
  });
  it('the range covers 99 of 100 changes by an end that is easy to read', () => {
    const changes = (most: number): Float64Array => Float64Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? 0 : (i % 4 === 1 ? -1 : 1) * most * (i / 1000)));
    expect(changeRange(new Float64Array(50))).toBe(0.5);
    expect(changeRange(changes(0.4))).toBe(0.5);
    expect(changeRange(changes(1.3))).toBe(2);
    expect(changeRange(changes(40))).toBe(10);
    const oneOutlier = changes(0.9);
    oneOutlier[999] = 30;
    expect(changeRange(oneOutlier)).toBe(1);
  });
});
