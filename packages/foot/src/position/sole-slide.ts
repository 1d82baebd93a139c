import type { Point } from '../landmarks.js';
import { medialSign } from '../side.js';
import type { SolePlanes } from './sole-planes.js';
import { hingeAhead, solePlanes } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';

/** Other ways in which the two planes could as well be taken: mm left out at the crease, mm within which the sole touches. */
const WAYS = [
  { margin: 5 },
  { margin: 11 },
  { within: 0.7 },
  { within: 1.5 },
] as const;

/** Rounds for the crease: it starts where the planes met. */
const ROUNDS = 2;

/**
 * How far readings of the sole planes move when the planes are taken in other ways: half of the whole range each. One of
 * the ways is to take the plane that the whole cast rests on for the rear one, as it is on a plate.
 */
export interface SoleSlide {
  /** Radians. */
  readonly bend: number;
  readonly twist: number;
  /** mm; null where one way shows no crease. */
  readonly hinge: number | null;
}

export function soleSlide(cast: StandingCast, sole: Uint32Array, planes: SolePlanes, medialBall: Point): SoleSlide {
  const all = [planes, ...WAYS.flatMap((way) => solePlanes(cast, sole, { ...way, start: planes.crease, rounds: ROUNDS }) ?? [])];
  const onRestPlane = medialSign(cast.side) * Math.atan(planes.front.b);
  const hinges = all.map((p) => hingeAhead(p, medialBall));
  return {
    bend: halfRange(all.map((p) => p.bend)),
    twist: halfRange([...all.map((p) => p.twist), onRestPlane]),
    hinge: hinges.every((h) => h !== null) ? halfRange(hinges) : null,
  };
}

const halfRange = (values: readonly number[]): number => (Math.max(...values) - Math.min(...values)) / 2;
