import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { RestPlane } from '../reference/rest-plane.js';
import { contactPlane, type SoleSurface } from './reference-planes.js';

/** The two planes that the sole stands on and the line between them, of a right foot in its frame. */
export interface SolePlanes {
  readonly rear: RestPlane;
  readonly front: RestPlane;
  /** Degrees, the front rising to the toes positive. */
  readonly bendDeg: number;
  /** Roll of the front against the rear, inner edge up positive, degrees. */
  readonly twistDeg: number;
  /** x of the crease at the inside ball point; null where the bend is under 4°. */
  readonly crease: number | null;
}

const DEGREE = Math.PI / 180;
/** How far the sets that the planes are found from keep off the crease, mm. */
const CLEAR = 8;
/** A bend that shows a crease. */
const LEAST_BEND_DEG = 4;

export const creaseAt = (rear: RestPlane, front: RestPlane, y: number): number =>
  (rear.height - front.height + (rear.slopeY - front.slopeY) * y) / (front.slopeX - rear.slopeX);

/**
 * Rear and front contact plane, from sets parted at the crease between them until it stays. The search starts where the hinge
 * was planted: from the ball centre it may come to rest on the part of the front set that lies on the rear plate.
 */
export function solePlanes(surface: SoleSurface, { ballCentre, medialBall, footLength }: Landmarks, toeEnd: number, hingeMm: number): SolePlanes {
  let parting = medialBall[0] + hingeMm;
  for (let round = 0; ; round++) {
    const rear = contactPlane(surface, -Infinity, parting - CLEAR);
    const front = contactPlane(surface, parting + CLEAR, toeEnd);
    const bendDeg = (Math.atan(front.slopeX) - Math.atan(rear.slopeX)) / DEGREE;
    const twistDeg = (Math.atan(front.slopeY) - Math.atan(rear.slopeY)) / DEGREE;
    const crease = bendDeg < LEAST_BEND_DEG ? null : creaseAt(rear, front, medialBall[1]);
    const next = Math.min(0.9 * footLength, Math.max(0.5 * footLength, crease ?? ballCentre[0]));
    if (Math.abs(next - parting) < 0.05 || round === 15) return { rear, front, bendDeg, twistDeg, crease };
    parting = round < 8 ? next : (next + parting) / 2;
  }
}

/** Pitch of the heel seat against the rest plane, heel up positive, degrees. */
export function heelSeatPitch(surface: SoleSurface, footLength: number): number {
  return -Math.atan(contactPlane(surface, -Infinity, 0.28 * footLength).slopeX) / DEGREE;
}
