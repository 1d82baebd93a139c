import type { Point } from '@cast-to-last/foot/landmarks';
import { nearestOnTape } from './near-tape.js';
import { overlapAt } from './overlap.js';
import type { ReadStation } from './read-cut.js';
import type { TopMap } from './top-map.js';

export const CLOSING_ERROR = {
  /** A tape crosses the cut where it comes as near to its course, mm. */
  crosses: 8,
  /** The same of the cut on the other side of the wall, on top of which a flap may ride. */
  crossesBeyondWall: 20,
  /** A flap that stands higher than this over the other rides on it, mm; a seam's own ridge is lower. */
  rides: 1.4,
  /** From this height on, mm, both sides must show the same flap on top. */
  agrees: 0.3,
  /**
   * Half-widths of 95 % intervals, mm, of a gap where it shows and where it was carried on from there, of a seam that shows no
   * gap (narrower ones look like a seam), and of an overlap (generated casts of the tuning range).
   */
  gap: 3,
  carried: 3.5,
  closed: 4,
  overlap: 2,
} as const;

/** Why nothing is told where the cast's texture hides the cut. */
export const HIDDEN = 'The surface beside shows lines as clear as the edges of a cut: among them none can be told.';

/** The same where it shows two edges as those of a gap would be. */
export const MAY_GAPE = 'Two edges show here as those of a gap would, but lines beside them are as clear: whether the cut gapes cannot be told.';

/** Why nothing is told where a gap and a seam look alike. */
export const GAP_OR_SEAM = 'Two lines run along the cut here; whether they are the edges of a narrow gap or the two sides of a seam cannot be told.';

/** The same where the two sides of the wall show different things. */
export const GAP_OR_OVERLAP = 'One side of the wall shows a gap here, the other one flap that stands over the other: which it is cannot be told.';

/** How far off the girth under a tape is because of the cut. */
export interface ClosingError {
  /** mm; positive where plaster bridged a gap, negative where the flaps overlap; null where it cannot be read. */
  readonly value: number | null;
  readonly uncertainty: number | null;
  readonly why: string;
  /** Where the tape crosses the cut; null where no cut is seen there. */
  readonly at: Point | null;
}

/**
 * @param tape x, y, z of the tape's points
 * @param cut as seen on the foot's own surface; null where none is seen
 * @param outer as seen on the other side of the wall where both were scanned, else null
 * @param surface the top of the foot on which `cut` was seen
 */
export function closingError(tape: Float64Array, cut: readonly ReadStation[] | null, outer: readonly ReadStation[] | null, surface: TopMap | null): ClosingError {
  const found = cut === null ? null : crossing(tape, cut);
  if (found === null || cut === null) return { value: 0, uncertainty: CLOSING_ERROR.closed, why: '', at: null };
  const { gap, carried, doubtful, step, hidden, mayGape, madeUp, at } = cut[found];
  if (madeUp) return { value: null, uncertainty: null, at, why: 'The surface was missing in the scan where the tape crosses the cut.' };
  if (hidden) return { value: null, uncertainty: null, at, why: mayGape ? MAY_GAPE : HIDDEN };
  if (carried && gap > CLOSING_ERROR.carried) {
    return { value: null, uncertainty: null, at, why: 'The cut gapes beside here; how far it does so here does not show.' };
  }
  const other = outer === null ? null : crossing(tape, outer, CLOSING_ERROR.crossesBeyondWall);
  const here = step ?? 0;
  const there = other === null ? 0 : (outer?.[other].step ?? 0);
  if (gap > 0) {
    if (Math.abs(there) >= CLOSING_ERROR.rides) return { value: null, uncertainty: null, at, why: GAP_OR_OVERLAP };
    return { value: gap, uncertainty: carried ? CLOSING_ERROR.carried : CLOSING_ERROR.gap, why: '', at };
  }
  if (doubtful) return { value: null, uncertainty: null, at, why: GAP_OR_SEAM };
  // What both sides show alike is surer than what one shows.
  if ((here * there > 0 ? Math.hypot(here, there) : Math.max(Math.abs(here), Math.abs(there))) < CLOSING_ERROR.rides) {
    return { value: 0, uncertainty: CLOSING_ERROR.closed, why: '', at };
  }
  if (other === null || outer === null || surface === null) {
    return {
      value: null, uncertainty: null, at,
      why: 'One flap stands over the other here; how far they overlap cannot be seen from one side.',
    };
  }
  if (Math.min(Math.abs(here), Math.abs(there)) >= CLOSING_ERROR.agrees && here * there < 0) {
    return { value: null, uncertainty: null, at, why: 'One flap stands over the other here, but the two sides of the wall do not show the same one.' };
  }
  // The higher step is the surer sign of which flap is on top.
  const overlap = overlapAt(surface, cut, found, outer, (Math.abs(here) > Math.abs(there) ? here : there) > 0 ? -1 : 1);
  if (overlap !== null) return { value: -overlap, uncertainty: CLOSING_ERROR.overlap, why: '', at };
  return { value: null, uncertainty: null, at, why: 'One flap stands over the other here, but the edges on the two sides of the wall are not those of two flaps that overlap.' };
}

/** The station of the course that lies nearest to a tape; null where none is near. */
function crossing(tape: Float64Array, cut: readonly ReadStation[], within: number = CLOSING_ERROR.crosses): number | null {
  let best = -1;
  let least = within;
  cut.forEach(({ at }, i) => {
    const near = nearestOnTape(tape, at, least);
    if (near === null) return;
    least = near.away;
    best = i;
  });
  return best < 0 ? null : best;
}
