import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormal } from '@cast-to-last/geometry/mesh/quantities';
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
  const sums = new Float64Array(4 * REGIONS.length);
  const surface = sumByRegion(sums, mesh, filled, side, landmarks);
  const regions = REGIONS.map((region, i): MadeUpArea => {
    const [area, x, y, z] = sums.subarray(4 * i, 4 * i + 4);
    return { region, area, middle: area > 0 ? [x / area, y / area, z / area] : null };
  });
  return { surface, regions };
}

/**
 * Adds area and area times middle of what is made up to the sums of its region; gives the area of the whole. A function of
 * its own, so that the engine compiles the loop once.
 */
function sumByRegion(sums: Float64Array, mesh: Mesh, filled: Uint8Array, side: Side, landmarks: Landmarks): number {
  const { positions: p, triangles: t } = mesh;
  const n = new Float64Array(3);
  let surface = 0;
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    triangleNormal(mesh, f, n);
    const area = Math.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]) / 2;
    surface += area;
    if (area === 0 || filled[t[f]] + filled[t[f + 1]] + filled[t[f + 2]] < 2) continue;
    const x = (p[a] + p[b] + p[c]) / 3;
    const y = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    const z = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
    const at = 4 * REGIONS.indexOf(regionAt(x, y, z, n[2] / (2 * area), side, landmarks));
    sums[at] += area;
    sums[at + 1] += area * x;
    sums[at + 2] += area * y;
    sums[at + 3] += area * z;
  }
  return surface;
}
