import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexAreas } from '@cast-to-last/geometry/mesh/quantities';

/** How far two surfaces stand off each other, mm: the farthest, and the root of the mean square over the area. */
export interface SurfaceChange {
  readonly maxMm: number;
  readonly rmsMm: number;
}

/** Looked at from both, at every vertex, so that neither what came nor what went is missed. Both in the same frame. */
export function surfaceChange(before: Mesh, after: Mesh): SurfaceChange {
  const sums = { max: 0, squares: 0, area: 0 };
  addDistances(before, after, sums);
  addDistances(after, before, sums);
  return { maxMm: sums.max, rmsMm: sums.area === 0 ? 0 : Math.sqrt(sums.squares / sums.area) };
}

function addDistances(from: Mesh, to: Mesh, sums: { max: number; squares: number; area: number }): void {
  const tree = surfaceTree(to);
  const areas = vertexAreas(from);
  const near = newNearestPoint();
  for (let v = 0; v < areas.length; v++) {
    if (areas[v] === 0) continue;
    nearestOnSurface(tree, from.positions[3 * v], from.positions[3 * v + 1], from.positions[3 * v + 2], near);
    sums.max = Math.max(sums.max, near.distance);
    sums.squares += areas[v] * near.distance ** 2;
    sums.area += areas[v];
  }
}
