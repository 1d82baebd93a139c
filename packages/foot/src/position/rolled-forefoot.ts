import type { Plane } from '../rest-plane.js';
import { contactPlane } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import { bendBetween, SOLE } from './sole-planes.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const ROLLED = {
  /** A forefoot that is twisted by more than this was rolled off the rear plate, radians. */
  from: (3 * Math.PI) / 180,
  /** The heel seat ends at this share of foot length. */
  heelEnd: 0.26,
  /** What lies this near to a plane was pressed on it, mm; the coarser ones tell how sure the bend is. */
  within: [0.3, 0.5, 1],
} as const;

/** Bend of a sole whose forefoot was rolled. Angles in radians. */
export interface RolledBend {
  /** What the heel stood on. */
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
export function rolledBend(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): RolledBend | null {
  if (Math.abs(planes.twist) <= ROLLED.from) return null;
  const { footLength, medialBall } = cast.landmarks;
  const heel = between(cast, sole, -Infinity, ROLLED.heelEnd * footLength);
  const toes = between(cast, sole, Math.max(planes.crease + SOLE.margin, medialBall[0]), Infinity);
  const [fine, ...coarser] = ROLLED.within.map((within) => {
    const rear = contactPlane(cast, heel, within);
    const front = contactPlane(cast, toes, within);
    return rear === null || front === null ? null : { rear, bend: bendBetween({ rear, front }) };
  });
  return fine === null ? null : { ...fine, doubt: Math.max(...coarser.map((other) => (other === null ? 0 : Math.abs(fine.bend - other.bend)))) };
}
