import { describe, expect, it } from 'vitest';
import { innerDistance } from '@cast-to-last/geometry/distance/inner-distance';
import { box, icosphere, merged, flipped } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

/** Signed distance to the box of these half-extents, inside positive. */
function inBox(half: readonly number[], p: readonly number[]): number {
  const q = p.map((c, k) => Math.abs(c) - half[k]);
  return -(Math.hypot(...q.map((c) => Math.max(c, 0))) + Math.min(0, Math.max(...q)));
}

describe('distance inside a surface', () => {
  it.each([1, 2, 3])('of a sphere is that to its middle, at random points (seed %d)', (seed) => {
    const random = rng(seed);
    const grid = innerDistance(icosphere(30, 5), 1.5);
    for (let n = 0; n < 400; n++) {
      const p = [random.range(-31, 31), random.range(-31, 31), random.range(-31, 31)] as const;
      const r = Math.hypot(...p);
      // Next to the middle, where the distance has a peak, what is read between nodes lies lower.
      if (r < 4 || r > 32) continue;
      expect(Math.abs(grid.at(...p) - (30 - r))).toBeLessThan(0.12);
    }
    expect(grid.at(0, 0, 0)).toBeGreaterThan(28);
  });
  it.each([4, 5])('of a box with large faces, turned off the grid, is that of the closed form (seed %d)', (seed) => {
    const random = rng(seed);
    const half = [20, 12, 9];
    const mesh = box(40, 24, 18, 1);
    const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
    const turned = mesh.positions.map((_, i) => {
      const [x, y, z] = mesh.positions.subarray(i - (i % 3), i - (i % 3) + 3);
      return [c * x - s * y, s * x + c * y, z][i % 3];
    });
    const grid = innerDistance({ positions: turned, triangles: mesh.triangles }, 1);
    for (let n = 0; n < 400; n++) {
      const p = [random.range(-20, 20), random.range(-12, 12), random.range(-9, 9)];
      const expected = inBox(half, p);
      const found = grid.at(c * p[0] - s * p[1], s * p[0] + c * p[1], p[2]);
      expect(Math.abs(found - expected)).toBeLessThan(0.4);
      if (Math.abs(expected) > 1) expect(Math.sign(found)).toBe(Math.sign(expected));
    }
  });
  it('is negative in a hollow and outside', () => {
    const shell = merged(icosphere(30, 4), flipped(icosphere(20, 4)));
    const grid = innerDistance(shell, 1.5);
    expect(grid.at(22.5, 0, 0)).toBeCloseTo(2.5, 0);
    expect(grid.at(0, 0, 0)).toBeLessThan(-18);
    expect(grid.at(31.5, 0, 0)).toBeLessThan(-1);
    expect(grid.at(500, 0, 0)).toBeLessThan(0);
  });
});
