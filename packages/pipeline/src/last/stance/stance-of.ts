import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { solePlanes } from '@cast-to-last/foot/position/sole-planes';
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

/**
 * The stance that the two planes show on which the sole rests.
 *
 * @param margin what lies nearer to the crease than this belongs to neither plane, mm
 * @param parted x where the sole is parted, mm; found where absent
 * @returns null where a part of the sole rests on no plane
 */
export function stanceOf(cast: StandingCast, margin: number, parted?: number): Stance | null {
  const planes = solePlanes(cast, soleVertices(cast), parted === undefined ? { margin } : { margin, start: parted, rounds: 1 });
  return planes === null ? null : stanceFrom(cast, planes);
}

function stanceFrom({ landmarks: { heelCentre, toeTip, ballCentre } }: StandingCast, { rear, front, bend, crease }: SolePlanes): Stance {
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
