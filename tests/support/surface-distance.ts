import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';

/** How far points lie outside a surface, mm, negative inside; sure within a few millimetres of it. */
export function outsideOf(mesh: Mesh): (x: number, y: number, z: number) => number {
  const tree = surfaceTree(mesh);
  const normals = triangleNormals(mesh);
  const hit = newNearestPoint();
  return (x, y, z) => {
    nearestOnSurface(tree, x, y, z, hit);
    const t = 3 * hit.triangle;
    const out = (x - hit.point[0]) * normals[t] + (y - hit.point[1]) * normals[t + 1] + (z - hit.point[2]) * normals[t + 2];
    return out > 0 ? hit.distance : -hit.distance;
  };
}
