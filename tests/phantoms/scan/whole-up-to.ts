import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { opposites } from '../surface/halfedges.js';
import type { Field } from '../surface/implicit.js';

/** How high the leg is whole, in the foot frame: the lowest point of the boundary, or of the cap. */
export function wholeUpTo({ positions, triangles }: Mesh, cap: Field | null): number {
  let lowest = Infinity;
  const take = (v: number): void => {
    lowest = Math.min(lowest, positions[3 * v + 2]);
  };
  if (cap) {
    for (let v = 0; v < positions.length / 3; v++) if (cap(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]) > -2) take(v);
  } else {
    opposites(triangles, positions.length / 3).forEach((other, h) => {
      if (other < 0) take(triangles[h]);
    });
  }
  return lowest;
}

