import type { Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh';
import { triangleNormals } from '@cast-to-last/geometry/quantities';
import { dot } from './piece.js';

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
  const steep = Math.sin((limitDeg * Math.PI) / 180);
  return downs.map((down) => {
    let bed = -Infinity;
    for (let i = 0; i < p.length; i += 3) bed = Math.max(bed, down[0] * p[i] + down[1] * p[i + 1] + down[2] * p[i + 2]);
    let area = 0;
    let resting = 0;
    for (let f = 0; f < triangleCount(mesh); f++) {
      const towards = down[0] * normals[3 * f] + down[1] * normals[3 * f + 1] + down[2] * normals[3 * f + 2];
      if (towards <= 0) continue;
      const size = Math.hypot(normals[3 * f], normals[3 * f + 1], normals[3 * f + 2]);
      if (towards <= steep * size) continue;
      const lies = [0, 1, 2].every((k) => bed - dot(down, p.subarray(3 * t[3 * f + k], 3 * t[3 * f + k] + 3)) < RESTING);
      if (lies) resting += size / 2;
      else area += size / 2;
    }
    return { area, resting };
  });
}
