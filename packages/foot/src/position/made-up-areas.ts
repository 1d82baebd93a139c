import type { Mesh } from '@cast-to-last/geometry/mesh';
import { triangleNormals } from '@cast-to-last/geometry/quantities';
import type { Landmarks, Point } from '../landmarks.js';
import type { Side } from '../side.js';
import type { Region } from './regions.js';
import { REGIONS, regionAt } from './regions.js';

export interface MadeUpArea {
  readonly region: Region;
  /** mm² */
  readonly area: number;
  /** Its middle; null where nothing of the region was made up. */
  readonly middle: Point | null;
}

export interface MadeUpAreas {
  /** mm² of the whole surface. */
  readonly surface: number;
  /** Every region, in the order of REGIONS. */
  readonly regions: readonly MadeUpArea[];
}

/**
 * How much of each region repair made up: triangles of which at least two corners are made up.
 *
 * @param mesh foot frame
 * @param filled one byte a vertex
 */
export function madeUpAreas(mesh: Mesh, filled: Uint8Array, side: Side, landmarks: Landmarks): MadeUpAreas {
  const { positions: p, triangles: t } = mesh;
  const normals = triangleNormals(mesh);
  const sums = REGIONS.map(() => [0, 0, 0, 0]);
  let surface = 0;
  for (let f = 0; f < t.length; f += 3) {
    const twice = Math.sqrt(normals[f] * normals[f] + normals[f + 1] * normals[f + 1] + normals[f + 2] * normals[f + 2]);
    surface += twice / 2;
    if (filled[t[f]] + filled[t[f + 1]] + filled[t[f + 2]] < 2 || twice === 0) continue;
    const [x, y, z] = [0, 1, 2].map((k) => (p[3 * t[f] + k] + p[3 * t[f + 1] + k] + p[3 * t[f + 2] + k]) / 3);
    const sum = sums[REGIONS.indexOf(regionAt(x, y, z, normals[f + 2] / twice, side, landmarks))];
    [twice / 2, (twice / 2) * x, (twice / 2) * y, (twice / 2) * z].forEach((part, k) => {
      sum[k] += part;
    });
  }
  const regions = REGIONS.map((region, i): MadeUpArea => {
    const [area, x, y, z] = sums[i];
    return { region, area, middle: area > 0 ? [x / area, y / area, z / area] : null };
  });
  return { surface, regions };
}
