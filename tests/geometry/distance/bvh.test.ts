import { describe, expect, it } from 'vitest';
import { nearestOnSurface, firstAlong, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import { nearSurface } from '@cast-to-last/geometry/distance/near-surface';
import { box, icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

describe('nearest point of a surface', () => {
  it.each([31, 32])('of a box is the clamped point outside, and the nearest face within (seed %i)', (seed) => {
    const random = rng(seed);
    const tree = surfaceTree(box(20, 12, 8));
    const half = [10, 6, 4];
    const found = newNearestPoint();
    for (let n = 0; n < 300; n++) {
      const q = half.map((h) => random.range(-2 * h, 2 * h));
      const clamped = q.map((c, k) => Math.max(-half[k], Math.min(half[k], c)));
      const outside = Math.hypot(...q.map((c, k) => c - clamped[k]));
      const expected = outside > 0 ? outside : Math.min(...q.map((c, k) => half[k] - Math.abs(c)));
      expect(nearestOnSurface(tree, q[0], q[1], q[2], found)).toBe(true);
      expect(found.distance).toBeCloseTo(expected, 9);
      expect(Math.hypot(...q.map((c, k) => c - found.point[k]))).toBeCloseTo(expected, 9);
    }
  });

  it('names the triangle of the mesh as it was given, far from the origin too', () => {
    const sphere = icosphere(30, 3);
    const far = { positions: sphere.positions.map((c, i) => c + [4000, -2500, 900][i % 3]), triangles: sphere.triangles };
    const before = far.triangles.slice();
    const tree = surfaceTree(far);
    expect(far.triangles).toEqual(before);
    const found = newNearestPoint();
    for (let t = 0; t < far.triangles.length; t += 30) {
      const middle = [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, c) => sum + far.positions[3 * far.triangles[t + c] + k] / 3, 0));
      expect(nearestOnSurface(tree, middle[0], middle[1], middle[2], found)).toBe(true);
      expect(found.triangle).toBe(t / 3);
      expect(found.distance).toBeLessThan(1e-9);
    }
  });

  it('is not found beyond the reach, as another search has it', () => {
    const random = rng(33);
    const mesh = icosphere(25, 2);
    const tree = surfaceTree(mesh);
    const points = Float64Array.from({ length: 600 }, () => random.range(-32, 32));
    const near = nearSurface(points, mesh, 1.5);
    const found = newNearestPoint();
    const mine = Uint8Array.from({ length: 200 }, (_, i) => (nearestOnSurface(tree, points[3 * i], points[3 * i + 1], points[3 * i + 2], found, 1.5) ? 1 : 0));
    expect(mine).toEqual(near);
    expect(new Set(mine).size).toBe(2);
  });

  it('needs a surface', () => {
    expect(() => surfaceTree({ positions: new Float64Array(9), triangles: new Uint32Array(0) })).toThrow(RangeError);
  });

  it('is met first where a ray enters a sphere, and beyond that where it leaves it', () => {
    const tree = surfaceTree(icosphere(20, 5));
    const found = newNearestPoint();
    expect(firstAlong(tree, -50, 3, 4, [1, 0, 0], 0, found)).toBe(true);
    const half = Math.sqrt(400 - 25);
    expect(found.distance).toBeCloseTo(50 - half, 1);
    expect(found.point[0]).toBeCloseTo(-half, 1);
    expect(firstAlong(tree, -50, 3, 4, [1, 0, 0], 50, found)).toBe(true);
    expect(found.distance).toBeCloseTo(50 + half, 1);
    expect(firstAlong(tree, -50, 3, 4, [-1, 0, 0], 0, found)).toBe(false);
  });
});
