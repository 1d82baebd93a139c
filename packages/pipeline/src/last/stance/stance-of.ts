import { contactPlane } from '@cast-to-last/foot/position/contact-plane';
import { between, soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { bendBetween, solePlanes } from '@cast-to-last/foot/position/sole-planes';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';

/** How a body stands: the two planes of its sole, and the lengths over which they rise from the crease. Angles in radians. */
export interface Stance {
  /** Angle between the planes about Y, front rising to the toes positive. */
  readonly bend: number;
  /** x of the crease in which they meet at the breadth of the ball centre, and its height over the rest plane, mm. */
  readonly crease: number;
  readonly creaseHeight: number;
  /** Slope of the rear plane about Y, front rising positive. */
  readonly rearSlope: number;
  /** Along the rear plane from the crease to the place square under the heel centre, mm. */
  readonly heelLength: number;
  /** Along the front plane from the crease to the place square under the toe tip: the toe end of the sole, mm. */
  readonly toeLength: number;
}

/** The stance that the two planes show on which the sole rests; null where a part of it rests on no plane. */
export function stanceOf(cast: StandingCast): Stance | null {
  const planes = solePlanes(cast, soleVertices(cast));
  return planes === null ? null : stanceFrom(cast, planes);
}

/** A sole parted at a crease: vertices behind it and ahead of it. They are the same however it is bent. */
export interface PartedSole {
  /** x, mm */
  readonly crease: number;
  readonly rear: Uint32Array;
  readonly front: Uint32Array;
}

/** @param margin what lies nearer to the crease than this belongs to neither part, mm */
export function partedSole(cast: StandingCast, crease: number, margin: number): PartedSole {
  const sole = soleVertices(cast);
  return { crease, rear: between(cast, sole, -Infinity, crease - margin), front: between(cast, sole, crease + margin, Infinity) };
}

/** The stance that the planes show on which the parts rest; null where one rests on no plane. */
export function stanceOfParts(cast: StandingCast, parts: PartedSole): Stance | null {
  const rear = contactPlane(cast, parts.rear);
  const front = contactPlane(cast, parts.front);
  return rear === null || front === null ? null : stanceFrom(cast, { rear, front, bend: bendBetween({ rear, front }), crease: parts.crease });
}

function stanceFrom({ landmarks: { heelCentre, toeTip, ballCentre } }: StandingCast, { rear, front, bend, crease }: Pick<SolePlanes, 'rear' | 'front' | 'bend' | 'crease'>): Stance {
  const rearSlope = Math.atan(rear.a);
  const creaseHeight = rear.a * crease + rear.b * ballCentre[1] + rear.c;
  const along = (slope: number, x: number, z: number): number => (x - crease) * Math.cos(slope) + (z - creaseHeight) * Math.sin(slope);
  return {
    bend,
    crease,
    creaseHeight,
    rearSlope,
    heelLength: -along(rearSlope, heelCentre[0], heelCentre[2]),
    toeLength: along(Math.atan(front.a), toeTip[0], toeTip[2]),
  };
}
