import { describe, expect, it } from 'vitest';
import { newNearestPoint, nearestOnSurface, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import { featherLine } from '@cast-to-last/pipeline/last/feather-line';
import { shapeSole } from '@cast-to-last/pipeline/last/shape-sole';
import { SLAB, edgedSlab } from '../../support/edged-slab.ts';

/** Distance of point p[i] from the piece of a line between q[a] and q[b]. */
function pointToSegment(p: Float64Array, i: number, q: Float64Array, a: number, b: number): number {
  const [d, e] = [[0, 1, 2].map((k) => q[b + k] - q[a + k]), [0, 1, 2].map((k) => p[i + k] - q[a + k])];
  const share = Math.max(0, Math.min(1, (d[0] * e[0] + d[1] * e[1] + d[2] * e[2]) / (d[0] ** 2 + d[1] ** 2 + d[2] ** 2 || 1)));
  return Math.hypot(...e.map((c, k) => c - share * d[k]));
}

describe('featherLine', () => {
  it('runs in the middle of a slab\'s edge, once round, counter-clockwise seen from above', () => {
    const line = featherLine(edgedSlab({ edge: 12, step: 1 }));
    const { half, length } = SLAB;
    const [inset, height] = [half - 12 + 12 * Math.SQRT1_2, 12 * (1 - Math.SQRT1_2)];
    let area = 0;
    for (let i = 0; i < line.length; i += 3) {
      const axis = Math.hypot(Math.max(0, half - line[i], line[i] - length + half), line[i + 1]);
      expect(Math.abs(axis - inset)).toBeLessThan(0.5);
      expect(Math.abs(line[i + 2] - height)).toBeLessThan(0.5);
      const j = (i + 3) % line.length;
      area += (line[i] * line[j + 1] - line[j] * line[i + 1]) / 2;
    }
    expect(Math.abs(area / ((length - 2 * half) * 2 * inset + Math.PI * inset * inset) - 1)).toBeLessThan(0.02);
  });

  it('follows the crisp edge that was made', () => {
    const made = shapeSole(edgedSlab({ edge: 12 }), { shape: 'flat', featherRadiusMm: 2 }).body;
    const line = featherLine(made);
    const tree = surfaceTree(made.mesh);
    const near = newNearestPoint();
    for (let i = 0; i < line.length; i += 3) {
      nearestOnSurface(tree, line[i], line[i + 1], line[i + 2], near);
      expect(near.distance).toBeLessThan(0.5);
      expect(line[i + 2]).toBeLessThan(2.5);
    }
  });

  it('is the line that the step hands on with the edge', () => {
    const made = shapeSole(edgedSlab({ edge: 12 }), { shape: 'flat', featherRadiusMm: 2 }).body;
    const read = featherLine(made);
    const handed = made.feather ?? new Float64Array(0);
    const apart = (from: Float64Array, to: Float64Array): number => {
      let most = 0;
      for (let i = 0; i < from.length; i += 3) {
        let least = Infinity;
        for (let j = 0; j < to.length; j += 3) least = Math.min(least, pointToSegment(from, i, to, j, (j + 3) % to.length));
        most = Math.max(most, least);
      }
      return most;
    };
    expect(handed.length).toBeGreaterThan(300);
    expect(Math.max(apart(read, handed), apart(handed, read))).toBeLessThan(0.3);
    expect(shapeSole(edgedSlab({ edge: 12 }), { shape: 'flat', featherRadiusMm: null }).body.feather).toBeUndefined();
  });
});
