import { describe, expect, it } from 'vitest';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { FlatTop } from '@cast-to-last/pipeline/last/top/flat-top';
import { findRoom, freeSpace } from '@cast-to-last/pipeline/last/top/free-space';
import { placeLabel, unknownCharacters } from '@cast-to-last/pipeline/last/top/place-label';
import type { PlacedLabel } from '@cast-to-last/pipeline/last/top/place-label';
import { CAPITAL, strokesOf } from '@cast-to-last/pipeline/last/top/stroke-letters';
import { strokeOutlines } from '@cast-to-last/pipeline/last/top/stroke-outlines';
import { levelPlane } from '@cast-to-last/pipeline/last/top/top-plane';
import { ringArea } from '@cast-to-last/pipeline/last/top/smooth-ring';

const rectangle = (length: number, width: number): FlatTop => ({ plane: levelPlane(0), outline: new Float64Array([0, 0, length, 0, length, width, 0, width]) });

const place = (top: FlatTop, order: string | null, side: 'left' | 'right' = 'right', discs: Parameters<typeof freeSpace>[2] = []): PlacedLabel | null =>
  placeLabel(top, freeSpace(top, 2, discs), side, order);

/** minU, maxU, minV, maxV of all strokes. */
function box({ outlines }: PlacedLabel): [number, number, number, number] {
  const u = outlines.flatMap((o) => Array.from(o.filter((_c, i) => i % 2 === 0)));
  const v = outlines.flatMap((o) => Array.from(o.filter((_c, i) => i % 2 === 1)));
  return [Math.min(...u), Math.max(...u), Math.min(...v), Math.max(...v)];
}

describe('strokes', () => {
  const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/+#.,:_()';
  it.each([...LETTERS])('%s stays on its grid', (letter) => {
    const { width, strokes } = strokesOf(letter);
    expect(strokes.length).toBeGreaterThan(0);
    for (const { points } of strokes) {
      for (let i = 0; i < points.length; i += 2) {
        expect(Number.isFinite(points[i]) && Number.isFinite(points[i + 1])).toBe(true);
        expect(points[i]).toBeGreaterThanOrEqual(0);
        expect(points[i]).toBeLessThanOrEqual(width);
        expect(points[i + 1]).toBeGreaterThanOrEqual(-0.3);
        expect(points[i + 1]).toBeLessThanOrEqual(CAPITAL + 0.3);
      }
    }
  });
  it('differ between any two letters, even without their size', () => {
    const drawings = [...LETTERS].map((letter) => strokesOf(letter).strokes.map(({ points }) => [...points].join()).join(' '));
    expect(new Set(drawings).size).toBe(LETTERS.length);
  });
  it('of letters in a row do not touch, in the smallest size', async () => {
    // 4 mm over all with strokes of 0.8 mm: each unit is 3.2 / 6 mm.
    const text = 'AVW/7JLTA-1X';
    const pieces = await withSolids((scope) => {
      const outlines = strokesOf(text).strokes.flatMap(({ points, gapsBefore }) =>
        strokeOutlines(points.map((c, i) => (i % 2 === 0 ? (c * 3.2) / 6 + gapsBefore * 0.8 : (c * 3.2) / 6)), 0.8));
      return scope.prism(outlines, 1).decompose().length;
    });
    expect(pieces).toBe(text.length);
  });
  it('are small letters cut as capitals, and boxes where there are none', () => {
    expect(strokesOf('abz')).toEqual(strokesOf('ABZ'));
    expect(unknownCharacters('20é41-é?')).toEqual(['é', '?']);
    expect(strokesOf('é').strokes).toHaveLength(1);
  });
  it('are bars with round ends that turn left, as wide as the pen', () => {
    const [bar, ...none] = strokeOutlines(new Float64Array([0, 0, 10, 0]), 1);
    expect(none).toEqual([]);
    // A bar of 10 × 1 and a disc of 12 corners.
    expect(ringArea(bar)).toBeCloseTo(10 + 12 * 0.5 * 0.25 * Math.sin(Math.PI / 6), 9);
    expect(ringArea(strokeOutlines(new Float64Array([3, 4]), 2)[0])).toBeCloseTo(12 * 0.5 * Math.sin(Math.PI / 6), 9);
  });
});

describe('placeLabel', () => {
  it.each([
    [rectangle(100, 60), '2041-B/17', ['2041-B/17 R']],
    [rectangle(40, 30), '2041-B/17', ['2041-', 'B/17 R']],
    [rectangle(20, 60), '2041-B/17', ['2041-B/17 R']],
    [rectangle(60, 60), null, ['R']],
    [rectangle(60, 60), '  ', ['R']],
  ])('keeps the strokes inside the top with its margin (%#)', (top, order, lines) => {
    const label = place(top, order) as PlacedLabel;
    expect(label.lines).toEqual(lines);
    expect(label.height).toBeGreaterThanOrEqual(4);
    expect(label.height).toBeLessThanOrEqual(12);
    expect(label.stroke).toBeGreaterThanOrEqual(0.8);
    const [minU, maxU, minV, maxV] = box(label);
    const { outline } = top;
    expect(minU).toBeGreaterThan(2 - 1e-9);
    expect(minV).toBeGreaterThan(2 - 1e-9);
    expect(maxU).toBeLessThan(outline[2] - 2 + 1e-9);
    expect(maxV).toBeLessThan(outline[5] - 2 + 1e-9);
  });
  it('is as high over all as it says', () => {
    const label = place(rectangle(100, 60), '2041') as PlacedLabel;
    const [, , minV, maxV] = box(label);
    expect(maxV - minV).toBeCloseTo(label.height, 6);
  });
  it('is read along the foot with the toes to the right, or across it with the toes up', () => {
    // The letter L has its long stroke on the left and its short one at the foot.
    const long = (label: PlacedLabel): Float64Array => label.outlines.reduce((a, b) => (ringArea(a) > ringArea(b) ? a : b));
    const middle = (o: Float64Array, k: number): number => o.filter((_c, i) => i % 2 === k).reduce((sum, c) => sum + c, 0) / (o.length / 2);
    const along = place(rectangle(60, 60), null, 'left') as PlacedLabel;
    const [minU, maxU, minV, maxV] = box(along);
    expect(maxV - minV).toBeGreaterThan(maxU - minU);
    expect(middle(long(along), 0)).toBeLessThan((minU + maxU) / 2);
    const across = place(rectangle(16, 60), '2041-17', 'left') as PlacedLabel;
    const [u0, u1, v0, v1] = box(across);
    expect(v1 - v0).toBeGreaterThan(3 * (u1 - u0));
    // Read from +v to −v, the side comes last.
    const last = across.outlines.slice(-2);
    for (const bar of last) expect(middle(bar, 1)).toBeLessThan((v0 + v1) / 2);
    expect(middle(last[1], 0)).toBeLessThan(middle(last[0], 0));
  });
  it('stays clear of a hole', () => {
    const hole = { u: 50, v: 30, radius: 10 };
    const label = place(rectangle(100, 60), '2041-B/17', 'right', [hole]) as PlacedLabel;
    const nearest = Math.min(...label.outlines.flatMap((o) => Array.from({ length: o.length / 2 }, (_, i) => Math.hypot(o[2 * i] - 50, o[2 * i + 1] - 30))));
    expect(nearest).toBeGreaterThan(10 - 0.36);
  });
  it('is left out where not even the smallest letters have room', () => {
    expect(place(rectangle(7, 7), null)).toBeNull();
    expect(place(rectangle(30, 12), '2041-B/17')).toBeNull();
    expect(place(rectangle(60, 60), '2041', 'right', [{ u: 30, v: 30, radius: 40 }])).toBeNull();
  });
});

describe('findRoom', () => {
  it('finds the free rectangle nearest to a point, and none that is too large', () => {
    const space = freeSpace(rectangle(50, 20), 2, [{ u: 25, v: 10, radius: 5 }]);
    expect(findRoom(space, 46, 16, [25, 10])).toBeNull();
    const found = findRoom(space, 10, 10, [50, 10]) as [number, number];
    expect(found[0]).toBeCloseTo(43, 6);
    expect(findRoom(space, 46, 3, [25, 10])).not.toBeNull();
  });
});
