import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { box, closedCylinder, flipped, gridPlane, icosphere, merged, openCylinder, uvTorus } from './meshes.ts';
import { rng } from './rng.ts';

/** Signed volume by the divergence theorem, number of edges met once, V − E + F. */
function figures(mesh: Mesh): { volume: number; rim: number; euler: number; area: number } {
  const p = mesh.positions;
  const edges = new Map<string, number>();
  let volume = 0;
  let area = 0;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const [a, b, c] = mesh.triangles.subarray(i, i + 3);
    const [A, B, C] = [a, b, c].map((v) => p.subarray(3 * v, 3 * v + 3));
    const cross = (u: ArrayLike<number>, v: ArrayLike<number>): number[] => [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const bc = cross(B, C);
    volume += (A[0] * bc[0] + A[1] * bc[1] + A[2] * bc[2]) / 6;
    area += Math.hypot(...cross(B.map((x, k) => x - A[k]), C.map((x, k) => x - A[k]))) / 2;
    for (const [u, v] of [[a, b], [b, c], [c, a]]) {
      const key = u < v ? `${u} ${v}` : `${v} ${u}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  }
  const rim = [...edges.values()].filter((n) => n === 1).length;
  return { volume, rim, area, euler: p.length / 3 - edges.size + mesh.triangles.length / 3 };
}

describe('hand-made meshes', () => {
  it('sphere: closed, Euler 2, outward, volume near 4/3·π·r³', () => {
    const f = figures(icosphere(10, 4));
    expect([f.rim, f.euler]).toEqual([0, 2]);
    expect(f.volume / ((4 / 3) * Math.PI * 1000)).toBeCloseTo(1, 2);
    expect(figures(flipped(icosphere(10, 2))).volume).toBeLessThan(0);
  });
  it('torus: closed, Euler 0, volume near 2π²Rr²', () => {
    const f = figures(uvTorus(30, 10, 96, 48));
    expect([f.rim, f.euler]).toEqual([0, 0]);
    expect(f.volume / (2 * Math.PI ** 2 * 30 * 100)).toBeCloseTo(1, 2);
  });
  it('cylinders: n-gon prism volume exactly; open ends have 2n rim edges', () => {
    const f = figures(closedCylinder(5, 20, 24, 3));
    expect([f.rim, f.euler]).toEqual([0, 2]);
    expect(f.volume).toBeCloseTo(0.5 * 24 * 25 * Math.sin((2 * Math.PI) / 24) * 20, 9);
    expect(figures(openCylinder(5, 20, 24, 3)).rim).toBe(48);
  });
  it('box: exact volume and area', () => {
    const f = figures(box(2, 3, 5, 4));
    expect([f.rim, f.euler]).toEqual([0, 2]);
    expect(f.volume).toBeCloseTo(30, 12);
    expect(f.area).toBeCloseTo(62, 12);
  });
  it('plane: exact area, one rim', () => {
    const f = figures(gridPlane(4, 6, 10));
    expect([f.rim, f.euler]).toEqual([20, 1]);
    expect(f.area).toBeCloseTo(100, 12);
  });
  it('two boxes as one: Euler 4, volumes add', () => {
    const f = figures(merged(box(1, 1, 1), box(2, 2, 2)));
    expect(f.euler).toBe(4);
    expect(f.volume).toBeCloseTo(9, 12);
  });
});

describe('seeded generator', () => {
  it('repeats (seed 7), and its normal deviates have mean 0, variance 1', () => {
    const first = rng(7);
    const second = rng(7);
    expect(Array.from({ length: 5 }, first.next)).toEqual(Array.from({ length: 5 }, second.next));
    const deviates = Array.from({ length: 20000 }, first.normal);
    const mean = deviates.reduce((s, x) => s + x, 0) / deviates.length;
    expect(Math.abs(mean)).toBeLessThan(0.03);
    expect(deviates.reduce((s, x) => s + x * x, 0) / deviates.length).toBeCloseTo(1, 1);
  });
  it('rotations are orthonormal with determinant 1 (seed 8)', () => {
    const m = rng(8).rotation();
    const det = m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) + m[2] * (m[3] * m[7] - m[4] * m[6]);
    expect(det).toBeCloseTo(1, 12);
    expect(m[0] * m[3] + m[1] * m[4] + m[2] * m[5]).toBeCloseTo(0, 12);
  });
});
