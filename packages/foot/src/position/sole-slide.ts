import type { Point } from '../landmarks.js';
import type { SolePlanes } from './sole-planes.js';
import { hingeAhead, solePlanes } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';

export const SOLE_SLIDE = {
  /** Other ways in which the two planes could as well be taken: mm left out at the crease, mm within which the sole touches. */
  ways: [{ margin: 5 }, { margin: 11 }, { within: 1.5 }],
  /** Rounds for the crease: it starts where the planes met. */
  rounds: 2,
  /** What lies this near to a plate was pressed on it, mm, and the surface of the rear and the front one that shows plates, mm². */
  plate: 0.3,
  rearPlate: 1500,
  frontPlate: 800,
} as const;

/** How far readings of the sole planes move when the planes are taken in other ways. */
export interface SoleSlide {
  /** Radians; half of the range. */
  readonly bend: number;
  readonly twist: number;
  /** mm; null where one way shows no crease. Where the sole shows the plates themselves, at least as far as to their hinge. */
  readonly hinge: number | null;
}

/**
 * The slide of bend, twist and hinge.
 *
 * @param unbridged the planes of the sole as it was scanned and smoothed
 */
export function soleSlide(cast: StandingCast, sole: Uint32Array, planes: SolePlanes, medialBall: Point, unbridged: SolePlanes = planes): SoleSlide {
  const { ways, rounds, plate } = SOLE_SLIDE;
  const take = (way: { margin?: number; within?: number }): SolePlanes | null => solePlanes(cast, sole, { ...way, start: planes.crease, rounds });
  const others = [unbridged, ...ways.map(take)].filter((p): p is SolePlanes => p !== null);
  const plates = take({ within: plate });
  const shown = plates !== null && plates.rear.area >= SOLE_SLIDE.rearPlate && plates.front.area >= SOLE_SLIDE.frontPlate ? plates : null;
  const all = [planes, ...others, ...(shown === null ? [] : [shown])];
  return {
    bend: halfRange(all.map((p) => p.bend)),
    twist: halfRange(all.map((p) => p.twist)),
    hinge: hingeSlide([planes, ...others].map((p) => hingeAhead(p, medialBall)), shown === null ? null : hingeAhead(shown, medialBall)),
  };
}

function hingeSlide(hinges: readonly (number | null)[], plates: number | null): number | null {
  if (!hinges.every((h) => h !== null)) return null;
  return Math.max(halfRange(hinges), plates === null ? 0 : Math.abs(plates - hinges[0]));
}

const halfRange = (values: readonly number[]): number => (Math.max(...values) - Math.min(...values)) / 2;
