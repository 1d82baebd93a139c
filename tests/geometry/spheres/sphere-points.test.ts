import { describe, expect, it } from 'vitest';
import { findSpheres } from '@cast-to-last/geometry/spheres/find-spheres';
import { coverage, directionCell, sphereSurface } from '@cast-to-last/geometry/spheres/sphere-points';
import { cutTo } from '../../support/disturb.ts';
import { asSoup, icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const all = (mesh: { positions: Float64Array }): Uint8Array => new Uint8Array(mesh.positions.length / 3).fill(1);

describe('share of a sphere that is seen', () => {
  it.each([[-2, 1], [0, 0.5], [0.5, 0.25], [-0.5, 0.75]])('above the height %d of the radius it is %d, by the area of a cap', (height, share) => {
    const cap = cutTo(icosphere(10, 6), (_x, _y, z) => z > 10 * height);
    expect(coverage(cap, all(cap), [0, 0, 0])).toBeGreaterThan(share - 0.02);
    expect(coverage(cap, all(cap), [0, 0, 0])).toBeLessThanOrEqual(share + 1e-9);
  });

  it('counts a surface that is there twice about once, and one without kept vertices not at all', () => {
    const cap = cutTo(icosphere(10, 5), (_x, _y, z) => z > 0);
    const twice = { positions: cap.positions, triangles: Uint32Array.from([...cap.triangles, ...cap.triangles]) };
    expect(coverage(twice, all(cap), [0, 0, 0])).toBeLessThan(0.63);
    expect(coverage(cap, new Uint8Array(cap.positions.length / 3), [0, 0, 0])).toBe(0);
  });
});

it('cells of directions: every one is hit, and about equally often (seed 81)', () => {
  const random = rng(81);
  const hits = new Float64Array(96);
  for (let n = 0; n < 96_000; n++) hits[directionCell(...random.direction(), 4)]++;
  expect(Math.min(...hits)).toBeGreaterThan(800);
  expect(Math.max(...hits)).toBeLessThan(1250);
});

describe('surface of a found ball', () => {
  it('is cut out of the scene, and its edges may not be measured', () => {
    const half = cutTo(icosphere(20, 6), (_x, _y, z) => z > 0);
    const [found] = findSpheres(half, { radius: 20, tolerance: 0.1 });
    const { mesh, inner } = sphereSurface(half, found);
    expect(mesh.triangles.length / 3).toBe(found.triangles.length);
    const heights = Array.from(inner, (_, v) => mesh.positions[3 * v + 2]);
    expect(Math.min(...heights.filter((_, v) => inner[v] === 1))).toBeGreaterThan(Math.min(...heights) + 0.3);
    expect(inner.reduce((s, v) => s + v, 0)).toBeGreaterThan(0.9 * inner.length);
  });

  it('keeps its points where the surface is torn into single triangles', () => {
    const whole = asSoup(icosphere(20, 4));
    const soup = { positions: whole.positions.map((c, i) => c * (1 + 1e-4 * (((i / 9) | 0) % 3))), triangles: whole.triangles };
    const [found] = findSpheres(soup, { radius: 20, tolerance: 0.1 });
    const { inner } = sphereSurface(soup, found);
    expect(inner.every((v) => v === 1)).toBe(true);
  });
});
