import { describe, expect, it } from 'vitest';
import { fairOutline, OUTLINE, outlinePoints, radiusAt } from '@cast-to-last/pipeline/last/toes/fair-outline';
import { leastSquares } from '@cast-to-last/pipeline/last/toes/least-squares';
import { outlineRadius } from '@cast-to-last/pipeline/last/toes/outline-radius';

const around = (count: number, at: (angle: number) => readonly [number, number]): Float64Array =>
  Float64Array.from({ length: 3 * count }, (_, i) => [...at(-Math.PI / 2 + (Math.PI * Math.floor(i / 3)) / (count - 1)), 0][i % 3]);

describe('fairOutline', () => {
  it('keeps a circle nearly as it is', () => {
    const circle = around(400, (a) => [45 * Math.cos(1.4 * a), 45 * Math.sin(1.4 * a)]);
    const { from, step, reach } = fairOutline(circle, circle, { at: 0, slope: 0 });
    // Beside its ends, 90° and a little more from straight ahead, it follows the slope that it begins with.
    const radii = Array.from(reach.keys()).filter((k) => Math.abs(from + k * step) < 1.3).map((k) => radiusAt(reach, k));
    expect(Math.min(...radii)).toBeGreaterThan(0.9 * 45);
    expect(Math.max(...radii)).toBeLessThan(1.1 * 45);
  });

  it('holds a pointed front in a line that is round enough, convex, and no longer', () => {
    const wedge = Float64Array.from([0, 45, 0, 20, 40, 0, 70, 8, 0, 66, -14, 0, 40, -40, 0, 0, -45, 0]);
    const outline = fairOutline(wedge, wedge, { at: 0, slope: 0 });
    const line = outlinePoints(outline);
    expect(Math.max(...line.filter((_, i) => i % 2 === 0))).toBeCloseTo(70, 1);
    for (let k = 1; k + 1 < outline.reach.length; k++) expect(radiusAt(outline.reach, k)).toBeGreaterThan(OUTLINE.radius - 1);
    outline.reach.forEach((reach, k) => {
      const [c, s] = [Math.cos(outline.from + k * outline.step), Math.sin(outline.from + k * outline.step)];
      for (let i = 0; i < wedge.length; i += 3) expect(c * wedge[i] + s * wedge[i + 1]).toBeLessThan(reach + 0.02);
    });
  });
});

describe('leastSquares', () => {
  it('lays a string over a peg: straight to both sides of it', () => {
    const n = 21;
    const at = (first: number, wanted: number, least: boolean): Parameters<typeof leastSquares>[0][number] => ({ first, weights: [1], wanted, weight: 1e9, least });
    const wishes = [at(0, 0, false), at(n - 1, 0, false), at(8, 4, true), at(10, -3, true), ...Array.from({ length: n - 1 }, (_, first) => ({ first, weights: [-1, 1], wanted: 0, weight: 1, least: false }))];
    leastSquares(wishes, new Float64Array(n)).forEach((y, k) => expect(y).toBeCloseTo(k <= 8 ? k / 2 : (4 * (20 - k)) / 12, 5));
  });
});

describe('outlineRadius', () => {
  it('is that of the sharpest place', () => {
    const round = around(600, (a) => [30 + 20 * Math.cos(a), 20 * Math.sin(a)]);
    expect(outlineRadius(round, { at: 0, slope: 0 })).toBeCloseTo(20, 0);
    const oval = around(900, (a) => [20 + 40 * Math.cos(a), 28 * Math.sin(a)]);
    // The end of an ellipse's long axis has the radius b² / a; the mean over 10 mm is a little more.
    expect(outlineRadius(oval, { at: 0, slope: 0 })).toBeGreaterThan(19.5);
    expect(outlineRadius(oval, { at: 0, slope: 0 })).toBeLessThan(21);
  });
});
