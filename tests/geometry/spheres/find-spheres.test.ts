import { describe, expect, it } from 'vitest';
import { findSpheres } from '@cast-to-last/geometry/spheres/find-spheres';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { cutTo, noisy } from '../../support/disturb.ts';
import { box, closedCylinder, flipped, gridPlane, icosphere, merged, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const at = (mesh: Mesh, x: number, y: number, z: number): Mesh => ({ positions: mesh.positions.map((c, i) => c + [x, y, z][i % 3]), triangles: mesh.triangles });

const away = (a: ArrayLike<number>, b: readonly number[]): number => Math.hypot(...b.map((c, k) => c - a[k]));

describe('balls in a scene', () => {
  it.each([71, 72, 73])('are found beside a table, a block, a post of their own thickness and a ring (seed %i)', (seed) => {
    const random = rng(seed);
    const radius = random.range(8, 30);
    const ball = icosphere(radius, 4);
    const whole = merged(
      at(ball, -2 * radius, 0, radius),
      at(ball, 3 * radius, radius, 1.4 * radius),
      at(gridPlane(60, 60, 14 * radius), 0, 0, 0),
      at(box(radius, 2 * radius, radius, 6), 0, 4 * radius, radius),
      at(closedCylinder(radius, 4 * radius, 48, 24), 0, -4 * radius, 0),
      at(uvTorus(1.2 * radius, 0.6 * radius, 48, 24), -5 * radius, 4 * radius, radius),
    );
    const mesh = noisy(whole, 0.03, random);
    const found = findSpheres(mesh, { radius: radius * random.range(0.95, 1.05), tolerance: 0.1 });
    expect(found).toHaveLength(2);
    for (const centre of [[-2 * radius, 0, radius], [3 * radius, radius, 1.4 * radius]]) {
      const [nearest] = [...found].sort((a, b) => away(a.centre, centre) - away(b.centre, centre));
      expect(away(nearest.centre, centre)).toBeLessThan(0.02 * radius);
      expect(Math.abs(nearest.radius - radius)).toBeLessThan(0.02 * radius);
      expect(nearest.seen).toBeGreaterThan(0.9);
      expect(nearest.outward).toBe(true);
      const reach = Array.from(nearest.triangles, (t) => away(mesh.positions.subarray(3 * mesh.triangles[3 * t], 3 * mesh.triangles[3 * t] + 3), centre));
      expect(Math.max(...reach)).toBeLessThan(1.05 * radius);
    }
  });

  it('are found in part, with how much of them is there', () => {
    const half = cutTo(icosphere(20, 5), (_x, _y, z) => z > 0);
    const [found] = findSpheres(half, { radius: 20, tolerance: 0.1 });
    expect(found.seen).toBeGreaterThan(0.44);
    expect(found.seen).toBeLessThan(0.51);
    expect(away(found.centre, [0, 0, 0])).toBeLessThan(0.3);
  });

  it.each([
    ['a ball of another size', icosphere(25, 4)],
    ['an egg', { ...icosphere(20, 5), positions: icosphere(20, 5).positions.map((c, i) => c * [1.2, 0.95, 0.9][i % 3]) }],
    ['a lying post that ends in a wall', merged(at(closedCylinder(20, 60, 64, 40), 0, 0, 0), at(box(100, 100, 4, 30), 0, 0, 62))],
    ['a ring', uvTorus(30, 20, 96, 48)],
    ['a block', box(40, 40, 40, 12)],
    ['a hollow', flipped(icosphere(20, 4))],
    ['nothing', { positions: new Float64Array(0), triangles: new Uint32Array(0) }],
  ])('are not found in %s', (_, mesh) => {
    expect(findSpheres(mesh, { radius: 20, tolerance: 0.1 })).toEqual([]);
  });

  it('are found facing inwards where that is asked', () => {
    const [found] = findSpheres(flipped(icosphere(20, 4)), { radius: 20, tolerance: 0.1, inward: true });
    expect(found.outward).toBe(false);
    expect(away(found.centre, [0, 0, 0])).toBeLessThan(0.2);
  });

  it('are told from what they touch: no triangle near the edge of their stand is theirs', () => {
    const stand = 0.6 * 20;
    const whole = merged(icosphere(20, 6), at(closedCylinder(stand, 60, 64, 60), 0, 0, -76));
    const mesh = { positions: whole.positions, triangles: cutTo(whole, (x, y, z) => Math.hypot(x, y, z) > 19.99 && (z > -16 || Math.hypot(x, y) > stand - 0.01)).triangles };
    const [found] = findSpheres(mesh, { radius: 20, tolerance: 0.1 });
    expect(away(found.centre, [0, 0, 0])).toBeLessThan(0.1);
    expect(Math.min(...Array.from(found.triangles, (t) => mesh.positions[3 * mesh.triangles[3 * t] + 2]))).toBeGreaterThan(-15.5);
  });
});
