import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { icosphere } from './meshes.ts';

/** An ellipsoid with half-axes a, b, c about `centre`, axes along x, y, z; every vertex exactly on it. */
export function ellipsoid(half: readonly [number, number, number], centre: readonly [number, number, number], subdivisions: number): Mesh {
  const sphere = icosphere(1, subdivisions);
  return { positions: sphere.positions.map((c, i) => c * half[i % 3] + centre[i % 3]), triangles: sphere.triangles };
}
