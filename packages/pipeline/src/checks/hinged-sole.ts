import type { Point } from '@cast-to-last/foot/landmarks';
import type { PressedPlates } from '@cast-to-last/foot/position/plates';
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

/** Off the plates where the sole shows them, else off its contact planes. */
export function hingedSole(planes: SolePlanes, plates: PressedPlates | null, slide: SoleSlide, medialBall: Point): HingedSole {
  if (plates === null) {
    const ahead = hingeAhead(planes, medialBall);
    return { rear: planes.rear, bend: planes.bend, bendDoubt: slide.bend, ahead, aheadDoubt: slide.hinge ?? Math.abs(ahead ?? 0) };
  }
  const bend = bendBetween(plates);
  // A forefoot that was rolled off its plate tells nothing of the hinge, whatever plates seem to show.
  const rolled = planes.bend >= SOLE.leastBend && creaseSkew(planes) > SOLE.mostSkew;
  const ahead = rolled ? null : creaseAhead(plates, medialBall);
  const coarse = creaseAhead(plates.coarse, medialBall);
  return {
    rear: plates.rear,
    bend,
    bendDoubt: Math.abs(bend - bendBetween(plates.coarse)),
    ahead,
    aheadDoubt: Math.hypot(PLATE_HEIGHT_ERROR / Math.tan(bend), ahead === null || coarse === null ? 0 : (ahead - coarse) / 2),
  };
}
