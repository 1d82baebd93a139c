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
  /** Stations to both sides among which the foot of an edge is sought. */
  along: 6,
  /** How far the upper flap may seem to end before the lower one, mm: two edges err by a millimetre each. */
  apart: 3,
  /** Length of a flap beside its end that says which way it runs, mm. */
  endOver: 4,
} as const;

/**
 * How far two flaps lie over each other, mm: the arc on the lower flap's own surface from the foot of the face that shows
 * there to what lies under the middle of the face that shows on the other side of the wall.
 *
 * @param surface the foot's own surface
 * @param cut as seen on it, one for each station from the first on
 * @param i station of the cut, at which one flap stands over the other
 * @param outer the cut as seen on the other side, at least one station
 * @param low side of the lower flap: 1 where that is +y
 * @returns null where the upper flap would end before the lower one begins: the edges are not those of two flaps that overlap
 */
export function overlapAt(surface: TopMap, cut: readonly ReadStation[], i: number, outer: readonly ReadStation[], low: 1 | -1): number | null {
  const from = cut.map(({ edge, step }, station) => sampleOf(surface, station, edge) + (low * Math.abs(step ?? 0)) / 2 / TOP_MAP.step);
  const arcs: number[] = [];
  for (let k = Math.max(0, i - OVERLAP.evened); k <= Math.min(cut.length - 1, i + OVERLAP.evened); k++) {
    const arc = arcOnFlap(surface, from, low, k, facing(cut, k, outer).edge);
    if (arc !== null) arcs.push(arc);
  }
  const arc = arcs.length === 0 ? NaN : median(Float64Array.from(arcs));
  return arc > -OVERLAP.apart ? Math.max(0, arc) : null;
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

/** The sample of a station that lies nearest to a place. */
function sampleOf({ points: p }: TopMap, station: number, [x, y, z]: Point): number {
  let best = 0;
  let least = Infinity;
  for (let j = 0; j < ACROSS; j++) {
    const q = 3 * (station * ACROSS + j);
    const d = length3(p[q] - x, p[q + 1] - y, p[q + 2] - z);
    if (!(d < least)) continue;
    least = d;
    best = j;
  }
  return best;
}

/**
 * Arc length on a flap from its end to the point that lies nearest to a place, mm, among stations near one; where that is the
 * end itself, how far beyond it the place lies, negative. Null where no such point is there.
 *
 * @param from sample at which the flap ends at each station, to the side `low` of which it lies
 */
function arcOnFlap({ points: p }: TopMap, from: readonly number[], low: 1 | -1, near: number, [x, y, z]: Point): number | null {
  let best: number | null = null;
  let least = Infinity;
  for (let s = Math.max(0, near - OVERLAP.along); s <= Math.min(from.length - 1, near + OVERLAP.along); s++) {
    const end = Math.round(from[s]);
    for (let j = end; j >= 0 && j < ACROSS; j += low) {
      const q = 3 * (s * ACROSS + j);
      const d = length3(p[q] - x, p[q + 1] - y, p[q + 2] - z);
      if (!(d < least)) continue;
      least = d;
      best = j === end ? -beyond(p, q, low, [x, y, z]) : low * (j - from[near]) * TOP_MAP.step;
    }
  }
  return best;
}

/** How far a place lies before the end of a flap, along the way that it runs out there, mm. */
function beyond(p: Float64Array, end: number, low: 1 | -1, at: Point): number {
  const into = end + 3 * low * Math.round(OVERLAP.endOver / TOP_MAP.step);
  let along = 0;
  let length = 0;
  for (let k = 0; k < 3; k++) {
    const way = p[end + k] - p[into + k];
    along += way * (at[k] - p[end + k]);
    length += way * way;
  }
  return along / Math.sqrt(length);
}
