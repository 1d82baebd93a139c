import { lowPass } from '@cast-to-last/geometry/low-pass';
import { medialSign } from '../side.js';
import { restPlaneUnder } from '../rest-plane.js';
import type { StandingCast } from './standing-cast.js';

/** Standard deviation of the blur, mm: of 2 to 8 the one that left the least roll on generated casts of the tuning range. */
const BLUR = 4;

/**
 * How far the rest plane would roll about X if ridges and small bumps under the sole did not carry it, inner edge up
 * positive, radians: that of the surface blurred. What was left of them by smoothing tilts the frame by up to a degree.
 */
export function levelRoll({ mesh, twin, side, landmarks: { heelCentre: h, ballCentre: b } }: StandingCast): number {
  try {
    return Math.atan(medialSign(side) * restPlaneUnder(lowPass(mesh, BLUR, twin).positions, (h[0] + b[0]) / 2, (h[1] + b[1]) / 2).b);
  } catch (error) {
    if (error instanceof RangeError) return 0;
    throw error;
  }
}
