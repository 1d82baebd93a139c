import type { Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';

/** A face rests on the bed where all its corners are this near to it, mm. */
export const RESTING = 0.05;

export interface Overhang {
  /** mm² that lean out from the vertical by more than the limit and do not rest on the bed. */
  readonly area: number;
  /** mm² that rest on the bed. */
  readonly resting: number;
}

/** For each direction that may be turned down, what hangs over then. `limitDeg` from the vertical. */
export function overhangs(mesh: Mesh, downs: readonly Point[], limitDeg: number): Overhang[] {
  const { positions: p, triangles: t } = mesh;
  // Twice the area long.
  const normals = triangleNormals(mesh);
  const sizes = new Float64Array(triangleCount(mesh));
  for (let f = 0; f < sizes.length; f++) sizes[f] = Math.hypot(normals[3 * f], normals[3 * f + 1], normals[3 * f + 2]);
  const steep = Math.sin((limitDeg * Math.PI) / 180);
  return downs.map((down) => {
    const depths = new Float64Array(p.length / 3);
    let bed = -Infinity;
    for (let v = 0; v < depths.length; v++) {
      depths[v] = down[0] * p[3 * v] + down[1] * p[3 * v + 1] + down[2] * p[3 * v + 2];
      bed = Math.max(bed, depths[v]);
    }
    let area = 0;
    let resting = 0;
    for (let f = 0; f < triangleCount(mesh); f++) {
      const towards = down[0] * normals[3 * f] + down[1] * normals[3 * f + 1] + down[2] * normals[3 * f + 2];
      const size = sizes[f];
      if (towards <= steep * size) continue;
      const shallowest = Math.min(depths[t[3 * f]], depths[t[3 * f + 1]], depths[t[3 * f + 2]]);
      if (bed - shallowest < RESTING) resting += size / 2;
      else area += size / 2;
    }
    return { area, resting };
  });
}
