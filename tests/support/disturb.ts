import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Rng } from './rng.ts';

/** Every vertex moved by normal noise of standard deviation `sigma` along each axis. */
export const noisy = (mesh: Mesh, sigma: number, random: Rng): Mesh => ({ positions: mesh.positions.map((c) => c + sigma * random.normal()), triangles: mesh.triangles });

/** Turned at random and moved by up to `reach` along each axis. */
export function posed(mesh: Mesh, reach: number, random: Rng): Mesh {
  const R = random.rotation();
  const shift = [0, 1, 2].map(() => random.range(-reach, reach));
  const p = mesh.positions;
  return { positions: p.map((_, i) => { const v = i - (i % 3); const r = 3 * (i % 3); return R[r] * p[v] + R[r + 1] * p[v + 1] + R[r + 2] * p[v + 2] + shift[i % 3]; }), triangles: mesh.triangles };
}

export const scaled = (mesh: Mesh, factor: number): Mesh => ({ positions: mesh.positions.map((c) => c * factor), triangles: mesh.triangles });

/** The triangles whose three corners all pass `keep`. */
export const cutTo = (mesh: Mesh, keep: (x: number, y: number, z: number) => boolean): Mesh => {
  const inside = (v: number): boolean => keep(mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]);
  const kept: number[] = [];
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const corners = [...mesh.triangles.subarray(i, i + 3)];
    if (corners.every(inside)) kept.push(...corners);
  }
  return { positions: mesh.positions, triangles: new Uint32Array(kept) };
};
