import { newNearestPoint } from './bvh.js';
import type { SurfaceTarget } from './surface-target.js';
import { facingPoint } from './surface-target.js';

export const DEVIATION = {
  /** Beyond this the other surface has no counterpart, in the meshes' unit. */
  reach: 25,
  /** Least cosine between the normals of counterparts. */
  facing: 0.5,
} as const;

/**
 * How far each point stands off a surface along that surface's normal, outside positive; NaN where the surface has no
 * counterpart: beyond its edge, out of reach, or facing another way.
 *
 * @param points x, y, z of each point
 * @param normals unit normals at the points
 */
export function surfaceDeviation(points: Float64Array, normals: Float64Array, from: SurfaceTarget): Float64Array {
  const { reach, facing } = DEVIATION;
  const out = new Float64Array(points.length / 3).fill(NaN);
  const near = newNearestPoint();
  for (let v = 0, i = 0; v < out.length; v++, i += 3) {
    if (!facingPoint(from, points[i], points[i + 1], points[i + 2], near, reach)) continue;
    const t = 3 * near.triangle;
    const nx = from.normals[t];
    const ny = from.normals[t + 1];
    const nz = from.normals[t + 2];
    if (nx * normals[i] + ny * normals[i + 1] + nz * normals[i + 2] < facing) continue;
    const side = (points[i] - near.point[0]) * nx + (points[i + 1] - near.point[1]) * ny + (points[i + 2] - near.point[2]) * nz;
    out[v] = side < 0 ? -near.distance : near.distance;
  }
  return out;
}
