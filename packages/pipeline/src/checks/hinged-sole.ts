import type { Point } from '@cast-to-last/foot/landmarks';
import type { PartedBend } from '@cast-to-last/foot/position/parted-sole';
import type { PressedPlates } from '@cast-to-last/foot/position/plates';
import type { RoundedPlates } from '@cast-to-last/foot/position/rounded-plates';
import { bendSpread, hingeSpread } from '@cast-to-last/foot/position/rounded-plates';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { bendBetween, creaseAhead, creaseSkew, hingeAhead, SOLE } from '@cast-to-last/foot/position/sole-planes';
import type { SoleSlide } from '@cast-to-last/foot/position/sole-slide';
import type { Plane } from '@cast-to-last/foot/rest-plane';

/** Bend and hinge of a sole. Angles in radians, lengths in mm. */
export interface HingedSole {
  /** What the heel stood on. */
  readonly rear: Plane;
  readonly bend: number;
  /** By how much it may have slid. */
  readonly bendDoubt: number;
  /** The hinge ahead of the inside of the ball; null where the sole does not show it. */
  readonly ahead: number | null;
  readonly aheadDoubt: number;
}

/**
 * Height, mm, by which the two plates can be taken wrong where they meet, for 95 % of generated casts of the tuning range:
 * the hinge moves by that over the tangent of their bend.
 */
const PLATE_HEIGHT_ERROR = 0.6;

/** The plates that a sole shows. */
export interface ShownPlates {
  readonly trough: PressedPlates;
  /** With the rounding between them; null where they do not meet in a hinge. */
  readonly rounded: RoundedPlates | null;
}

/** Off the plates where the sole shows them, else off its contact planes; the bend of one of which heel and ball did not lie on one plate off the part that did. */
export function hingedSole(planes: SolePlanes, plates: ShownPlates | null, parted: PartedBend | null, slide: SoleSlide, medialBall: Point): HingedSole {
  const hinged = plates === null ? ofContact(planes, slide, medialBall) : ofPlates(planes, plates, medialBall);
  return parted === null ? hinged : { ...hinged, rear: parted.rear, bend: parted.bend, bendDoubt: parted.doubt };
}

function ofContact(planes: SolePlanes, slide: SoleSlide, medialBall: Point): HingedSole {
  const ahead = hingeAhead(planes, medialBall);
  return { rear: planes.rear, bend: planes.bend, bendDoubt: slide.bend, ahead, aheadDoubt: slide.hinge ?? Math.abs(ahead ?? 0) };
}

function ofPlates(planes: SolePlanes, { trough, rounded }: ShownPlates, medialBall: Point): HingedSole {
  // A forefoot that was rolled off its plate tells nothing of the hinge, whatever plates seem to show.
  const rolled = planes.bend >= SOLE.leastBend && creaseSkew(planes) > SOLE.mostSkew;
  if (rounded !== null) {
    const ahead = rolled ? null : creaseAhead(rounded, medialBall);
    return { rear: rounded.rear, bend: bendBetween(rounded), bendDoubt: bendSpread(rounded), ahead, aheadDoubt: hingeSpread(rounded, medialBall[1]) };
  }
  const bend = bendBetween(trough);
  const ahead = rolled ? null : creaseAhead(trough, medialBall);
  const coarse = creaseAhead(trough.coarse, medialBall);
  return {
    rear: trough.rear,
    bend,
    bendDoubt: Math.abs(bend - bendBetween(trough.coarse)),
    ahead,
    aheadDoubt: Math.hypot(PLATE_HEIGHT_ERROR / Math.tan(bend), ahead === null || coarse === null ? 0 : (ahead - coarse) / 2),
  };
}
