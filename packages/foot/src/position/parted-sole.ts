import type { Plane } from '../rest-plane.js';
import { contactPlane } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import { bendBetween, SOLE, solePlanes } from './sole-planes.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const PARTED = {
  /** A forefoot that is twisted by more than this was rolled off the rear plate, radians. */
  rolled: (3 * Math.PI) / 180,
  /** A heel seat that is turned by more than this against what lies ahead of it stood on no plate with it, radians. */
  tilted: (2.5 * Math.PI) / 180,
  /** Surface that heel seat and what lies ahead of it need to tell so, mm² at a foot length, mm. */
  seat: 600,
  ahead: 800,
  footLength: 260,
  /** A sole that rocks is curved at the heel, too: both halves of a flat seat, parted at a share of foot length, slope alike up to this, radians; and the surface that a half needs, mm². */
  halves: 0.15,
  curved: (2.8 * Math.PI) / 180,
  half: 250,
  /** The heel seat ends, and what lies between it and the ball begins, at these shares of foot length. */
  heelEnd: 0.26,
  ballFrom: 0.3,
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

/** What of a sole stood on plates where the heel did not. */
export interface BesideHeel {
  /** Where it begins along the foot, mm, and the vertices of it. */
  readonly from: number;
  readonly sole: Uint32Array;
  readonly planes: SolePlanes;
  /** The plane of the heel seat, and the one of what lies between it and the hinge. */
  readonly seat: Plane;
  readonly rear: Plane;
  /** The bend between ball and toes alone; null where they rest on no plane. */
  readonly parted: PartedBend | null;
}

/**
 * The sole ahead of a heel that was lifted off the rear plate or sank into it: a plane through the heel's edge and the
 * ball slopes as no plate did.
 *
 * @param sole vertices of the sole that can be leaned on
 * @returns null where heel and ball stood on one plate, or nothing tells
 */
export function besideTiltedHeel(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): BesideHeel | null {
  const { footLength } = cast.landmarks;
  // Of a rolled forefoot the ball lies on no plate either.
  if (Math.abs(planes.twist) > PARTED.rolled) return null;
  const share = (footLength / PARTED.footLength) ** 2;
  const from = PARTED.ballFrom * footLength;
  const heel = heelSeat(cast, sole);
  const seat = contactPlane(cast, heel, PARTED.within[0]);
  const rear = contactPlane(cast, between(cast, sole, from, planes.crease - SOLE.margin), PARTED.within[0]);
  if (seat === null || rear === null || seat.area < PARTED.seat * share || rear.area < PARTED.ahead * share) return null;
  if (Math.abs(Math.atan(seat.a) - Math.atan(rear.a)) <= PARTED.tilted) return null;
  if (isCurved(cast, heel, share)) return null;
  const ahead = between(cast, sole, from, Infinity);
  const own = solePlanes(cast, ahead);
  if (own === null) return null;
  const behindCrease = between(cast, ahead, -Infinity, own.crease - SOLE.margin);
  return { from, sole: ahead, planes: own, seat, rear: contactPlane(cast, behindCrease, PARTED.within[0]) ?? rear, parted: bendOf(cast, behindCrease, toes(cast, sole, own)) };
}

/** Whether the heel seat is no plane but an arc along the foot. */
function isCurved(cast: StandingCast, heel: Uint32Array, share: number): boolean {
  const parting = PARTED.halves * cast.landmarks.footLength;
  const back = contactPlane(cast, between(cast, heel, -Infinity, parting), PARTED.within[0]);
  const front = contactPlane(cast, between(cast, heel, parting, Infinity), PARTED.within[0]);
  if (back === null || front === null || Math.min(back.area, front.area) < PARTED.half * share) return false;
  return Math.abs(Math.atan(back.a) - Math.atan(front.a)) > PARTED.curved;
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
