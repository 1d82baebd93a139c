import { joinedPatches } from '@cast-to-last/geometry/mesh/joined-patches';
import { unit } from '@cast-to-last/geometry/numerics/vectors';
import type { AlignedCast } from '../records.js';
import type { InspectionSurface } from './inspection-surface.js';
import type { Patch } from './mend.js';
import { nearOnSurface } from './near-on-surface.js';
import { nearestVertex } from './nearest-vertex.js';
import { apart } from './spread-along.js';

export const FILLED_HOLES = {
  /** Holes as large as a circle of this radius and larger may be open soles or ends of tubes, over which repair put a skin, mm. */
  largest: 40,
  /**
   * What bulges by its radius of curvature stands over its rim by the hole's radius squared over twice that. The new surface
   * may lie as far from repair's as at a radius of 100 mm, and this much more, mm. Farther than that it was found in holes a
   * few millimetres wide between toes alone, where it ran across to the next toe.
   */
  curvature: 100,
  more: 0.1,
  /** A hole whose rim stands steeper than this on it, in the mean over so many mm beside it, may be the end of a tube, degrees; beside missing pieces of sole it is less than 25. */
  endAngle: 40,
  rim: 5,
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
  const areaOf = (cells: Uint32Array): number => cells.reduce((sum, cell) => sum + surface.areas[cell] * shares[cell], 0);
  return joinedPatches(surface.mesh, Uint8Array.from(shares, (share) => (share > 0 ? 1 : 0)))
    .map((cells) => Uint32Array.from(cells))
    .filter((cells) => areaOf(cells) < Math.PI * FILLED_HOLES.largest ** 2 && rimAngle(surface, cells) < (FILLED_HOLES.endAngle * Math.PI) / 180)
    .map((vertices) => {
      const centre = middleOf(surface, vertices);
      const radius = vertices.reduce((most, v) => Math.max(most, apart(surface.mesh, v, centre)), 0);
      const farthest = FILLED_HOLES.more + radius ** 2 / (2 * FILLED_HOLES.curvature);
      return { vertices, centre, margin: FILLED_HOLES.margin, unscanned: { at: cast.filled, farthest } };
    });
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

/** Mean angle between the surface beside a hole and what was put over it, radians. */
function rimAngle(surface: InspectionSurface, hole: Uint32Array): number {
  const { normals } = surface;
  const mean = [0, 0, 0];
  for (const v of hole) for (let k = 0; k < 3; k++) mean[k] += normals[3 * v + k];
  const out = unit(mean);
  const beside = nearOnSurface(surface, hole, FILLED_HOLES.rim).reached.subarray(hole.length);
  const turn = (v: number): number => Math.acos(Math.min(1, Math.max(-1, normals[3 * v] * out[0] + normals[3 * v + 1] * out[1] + normals[3 * v + 2] * out[2])));
  return beside.reduce((sum, v) => sum + turn(v), 0) / Math.max(1, beside.length);
}

/** The one of the vertices nearest to their mean place. */
function middleOf({ mesh }: InspectionSurface, vertices: Uint32Array): number {
  const mean = [0, 0, 0];
  for (const v of vertices) for (let k = 0; k < 3; k++) mean[k] += mesh.positions[3 * v + k] / vertices.length;
  return nearestVertex(mesh, vertices, mean).vertex;
}
