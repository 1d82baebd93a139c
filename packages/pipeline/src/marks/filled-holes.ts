import { joinedPatches } from '@cast-to-last/foot/position/joined-patches';
import type { AlignedCast } from '../records.js';
import type { InspectionSurface } from './inspection-surface.js';
import type { Patch } from './mend.js';

export const FILLED_HOLES = {
  /** Holes as large as a circle of this radius and larger may be open soles or ends of tubes, over which repair put a skin, mm. */
  largest: 40,
  /** The ring that steers the surface begins so far beyond the hole's edge, mm. */
  margin: 1,
} as const;

/**
 * The holes that repair filled, as patches that move nothing but the fill. Repair leans on all that lies round a hole,
 * before marks are known, and bends as little as it can; the surface that takes the place of marks leaves them out and
 * carries curvature on.
 */
export function filledHoles(cast: Pick<AlignedCast, 'filled'>, surface: InspectionSurface): Patch[] {
  const shares = filledShares(cast, surface);
  const areaOf = (cells: readonly number[]): number => cells.reduce((sum, cell) => sum + surface.areas[cell] * shares[cell], 0);
  return joinedPatches(surface.mesh, Uint8Array.from(shares, (share) => (share > 0 ? 1 : 0)))
    .filter((cells) => areaOf(cells) < Math.PI * FILLED_HOLES.largest ** 2)
    .map((cells) => ({ vertices: Uint32Array.from(cells), centre: middleOf(surface, cells), margin: FILLED_HOLES.margin, only: cast.filled }));
}

/** Which share of each coarse vertex's own surface repair made, 0 to 1. */
function filledShares({ filled }: Pick<AlignedCast, 'filled'>, { areas, cellOf }: Pick<InspectionSurface, 'areas' | 'cellOf'>): Float64Array {
  const made = new Float64Array(areas.length);
  const all = new Uint32Array(areas.length);
  cellOf.forEach((cell, v) => {
    made[cell] += filled[v];
    all[cell]++;
  });
  return made.map((count, cell) => (all[cell] === 0 ? 0 : count / all[cell]));
}

/** The one of the vertices nearest to their mean place. */
function middleOf({ mesh }: InspectionSurface, vertices: readonly number[]): number {
  const p = mesh.positions;
  const mean = [0, 0, 0];
  for (const v of vertices) for (let k = 0; k < 3; k++) mean[k] += p[3 * v + k] / vertices.length;
  const away = (v: number): number => Math.hypot(p[3 * v] - mean[0], p[3 * v + 1] - mean[1], p[3 * v + 2] - mean[2]);
  return vertices.reduce((best, v) => (away(v) < away(best) ? v : best));
}
