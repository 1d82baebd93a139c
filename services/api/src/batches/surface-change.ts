import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh';

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

/** A third of each triangle's area for each of its corners. */
function vertexAreas({ positions: p, triangles }: Mesh): Float64Array {
  const areas = new Float64Array(p.length / 3);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const third = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 6;
    areas[triangles[t]] += third;
    areas[triangles[t + 1]] += third;
    areas[triangles[t + 2]] += third;
  }
  return areas;
}
