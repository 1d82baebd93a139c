import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { median } from '@cast-to-last/geometry/numerics/median';
import type { Point } from '@cast-to-last/foot/landmarks';
import type { ReadStation } from './read-cut.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const OVERLAP = {
  /** Stations to both sides whose middle value counts: single edges err by a millimetre. */
  evened: 4,
  /** Stations of the course that say which way it runs. */
  ahead: 3,
} as const;

/**
 * How far two flaps lie over each other, mm: the arc on the foot's own surface from the edge that shows there to the foot of
 * the edge that shows on the other side of the wall.
 *
 * @param surface the foot's own surface
 * @param cut as seen on it
 * @param i station of the cut
 * @param outer the cut as seen on the other side, at least one station
 */
export function overlapAt(surface: TopMap, cut: readonly ReadStation[], i: number, outer: readonly ReadStation[]): number {
  const arcs: number[] = [];
  for (let k = Math.max(0, i - OVERLAP.evened); k <= Math.min(cut.length - 1, i + OVERLAP.evened); k++) {
    const inner = footOf(surface, cut[k].edge);
    const other = footOf(surface, facing(cut, k, outer).edge);
    arcs.push(Math.abs(other - inner) * TOP_MAP.step);
  }
  return median(Float64Array.from(arcs));
}

/** The station on the other side that lies least ahead or behind along the cut. */
function facing(cut: readonly ReadStation[], i: number, outer: readonly ReadStation[]): ReadStation {
  const before = cut[Math.max(0, i - OVERLAP.ahead)].at;
  const after = cut[Math.min(cut.length - 1, i + OVERLAP.ahead)].at;
  const from = cut[i].edge;
  const ahead = ({ edge }: ReadStation): number => {
    let along = 0;
    for (let k = 0; k < 3; k++) along += (edge[k] - from[k]) * (after[k] - before[k]);
    return Math.abs(along);
  };
  return outer.reduce((best, station) => (ahead(station) < ahead(best) ? station : best));
}

/** The sample across of the point of the surface that lies nearest to a place. */
function footOf({ points: p, stations }: TopMap, at: Point): number {
  let best = 0;
  let least = Infinity;
  for (let q = 0; q < stations * ACROSS; q++) {
    const d = length3(p[3 * q] - at[0], p[3 * q + 1] - at[1], p[3 * q + 2] - at[2]);
    if (!(d < least)) continue;
    least = d;
    best = q;
  }
  return best % ACROSS;
}
