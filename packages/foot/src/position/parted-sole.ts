import type { Plane } from '../rest-plane.js';
import { contactPlane } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import { bendBetween, SOLE } from './sole-planes.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const PARTED = {
  /** A forefoot that is twisted by more than this was rolled off the rear plate, radians. */
  rolled: (3 * Math.PI) / 180,
  /** A heel seat that goes down by more than this against the rear plane was bent off it, radians. */
  sunk: (3 * Math.PI) / 180,
  /** The heel seat ends, and what lies between it and the ball begins, at these shares of foot length. */
  heelEnd: 0.26,
  ballFrom: 0.32,
  /** What lies this near to a plane was pressed on it, mm; the coarser ones tell how sure the bend is. */
  within: [0.3, 0.5, 1],
} as const;

/** Bend of a sole of which heel and ball did not lie on one plate. Angles in radians. */
export interface PartedBend {
  /** What the part stood on that the bend is taken from. */
  readonly rear: Plane;
  readonly bend: number;
  /** By how much it may have slid. */
  readonly doubt: number;
}

/**
 * The bend between heel seat and toes alone: where the forefoot is rolled, the ball lies on neither plate, and a plane
 * through heel and ball slopes along the foot as no plate did.
 *
 * @param sole vertices of the sole that can be leaned on
 * @returns null where the forefoot is not rolled, or heel or toes rest on no plane
 */
export function rolledBend(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): PartedBend | null {
  if (Math.abs(planes.twist) <= PARTED.rolled) return null;
  return bendOf(cast, heelSeat(cast, sole), toes(cast, sole, planes));
}

/**
 * The bend between the ball and the toes alone: where the heel sank off the plate, a plane through its edge and the ball
 * slopes down to the ball as no plate did.
 *
 * @param rear what heel and ball are taken to have stood on
 * @returns null where the heel did not sink, or ball or toes rest on no plane
 */
export function sunkBend(cast: StandingCast, sole: Uint32Array, planes: SolePlanes, rear: Plane): PartedBend | null {
  const seat = contactPlane(cast, heelSeat(cast, sole), PARTED.within[0]);
  if (seat === null || Math.atan(seat.a) - Math.atan(rear.a) <= PARTED.sunk) return null;
  return bendOf(cast, between(cast, sole, PARTED.ballFrom * cast.landmarks.footLength, planes.crease - SOLE.margin), toes(cast, sole, planes));
}

const heelSeat = (cast: StandingCast, sole: Uint32Array): Uint32Array => between(cast, sole, -Infinity, PARTED.heelEnd * cast.landmarks.footLength);

const toes = (cast: StandingCast, sole: Uint32Array, { crease }: SolePlanes): Uint32Array =>
  between(cast, sole, Math.max(crease + SOLE.margin, cast.landmarks.medialBall[0]), Infinity);

function bendOf(cast: StandingCast, behind: Uint32Array, ahead: Uint32Array): PartedBend | null {
  const [fine, ...coarser] = PARTED.within.map((within) => {
    const rear = contactPlane(cast, behind, within);
    const front = contactPlane(cast, ahead, within);
    return rear === null || front === null ? null : { rear, bend: bendBetween({ rear, front }) };
  });
  return fine === null ? null : { ...fine, doubt: Math.max(...coarser.map((other) => (other === null ? 0 : Math.abs(fine.bend - other.bend)))) };
}
