import type { Point } from './landmarks.js';

/**
 * How far inside its extreme a ball point may lie unnoticed, mm: it is read from a smooth surface, whose noise is far
 * below the scan's. Set so that the slide covers the error of 95 % of generated casts of the tuning range.
 */
const EXTREME_READING = 0.03;

/** No ball point is known better than this along the foot, mm (generated casts of the tuning range). */
const LEAST_SLIDE = 0.4;

/** Farther along the foot than this, mm, the surface is another part of it. */
const REACH = 20;

/** How far along x a ball point may lie from where it was found: half the range in which the surface stays near its extreme across the foot, mm. */
export function extremeSlide(positions: Float64Array, extreme: Point): number {
  const direction = Math.sign(extreme[1]);
  const level = direction * extreme[1] - EXTREME_READING;
  let low = extreme[0];
  let high = extreme[0];
  for (let i = 0; i < positions.length; i += 3) {
    if (direction * positions[i + 1] < level || Math.abs(positions[i] - extreme[0]) > REACH) continue;
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  return Math.max(LEAST_SLIDE, (high - low) / 2);
}
