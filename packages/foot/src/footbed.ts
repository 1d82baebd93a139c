import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { identity } from '@cast-to-last/geometry/numerics/transform';

/**
 * A footbed of two plates joined by a hinge across the foot, on which a cast is taken: the rear plate runs from the heel
 * down to the hinge, the front plate from the hinge to the toes. Heights over the floor, lengths along the plates, mm.
 */
export interface HingedFootbed {
  readonly heelHeightMm: number;
  readonly hingeHeightMm: number;
  readonly toeHeightMm: number;
  readonly heelToHingeMm: number;
  readonly hingeToToeMm: number;
}

/** Radians; each 0 or more where the hinge is the lowest line of the bed. */
export interface BedAngles {
  /** How far the rear plate goes down to the hinge. */
  readonly heelPitch: number;
  /** How far the front plate goes up from the hinge. */
  readonly toePitch: number;
  /** Angle between the plates: the sum of both. */
  readonly bend: number;
}

/** The angles of a footbed from its heights and lengths. Throws RangeError where a plate would have to be longer than it is. */
export function bedAngles(bed: HingedFootbed): BedAngles {
  const heelPitch = Math.asin((bed.heelHeightMm - bed.hingeHeightMm) / bed.heelToHingeMm);
  const toePitch = Math.asin((bed.toeHeightMm - bed.hingeHeightMm) / bed.hingeToToeMm);
  if (Number.isNaN(heelPitch) || Number.isNaN(toePitch)) throw new RangeError('a footbed plate that is shorter than the heights of its ends differ');
  return { heelPitch, toePitch, bend: heelPitch + toePitch };
}

/**
 * The turn from the foot frame into the floor frame: about Y, so that the rest plane goes down to the toes by `heelPitch`
 * (radians) and Z stands upright on the floor. What leans by an angle in the foot frame leans that much more to the toes
 * in the floor frame. The origin, under the heel, stays.
 */
export function footToFloor(heelPitch: number): Transform {
  const turn = identity();
  turn[0] = Math.cos(heelPitch);
  turn[2] = Math.sin(heelPitch);
  turn[8] = -Math.sin(heelPitch);
  turn[10] = Math.cos(heelPitch);
  return turn;
}
