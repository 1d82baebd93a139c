import type { Point } from '../landmarks.js';
import { medialSign } from '../side.js';
import type { StandingCast } from './standing-cast.js';

export const ANKLE_BONE = {
  /** Where it is sought, shares of foot length: along the foot, and up. */
  from: 0.13,
  to: 0.32,
  low: 0.19,
  high: 0.42,
  /** Height of a step in which the innermost reach is taken, mm. */
  step: 3,
  /** It stands out at least this far against what lies below and above it, mm. */
  prominence: 1,
  /** How far its height is to be trusted, mm: error of 95 % of generated casts of the tuning range. */
  error: 4,
} as const;

/**
 * The inside ankle bone (medial malleolus): the most prominent bulge of the inner side behind and below the shank.
 *
 * @returns null where no bulge stands out, as on a cast that ends below it
 */
export function insideAnkleBone({ mesh: { positions: p }, side, landmarks, wholeTo }: StandingCast): Point | null {
  const m = medialSign(side);
  const fl = landmarks.footLength;
  const floor = ANKLE_BONE.low * fl;
  const steps = Math.floor((Math.min(ANKLE_BONE.high * fl, wholeTo) - floor) / ANKLE_BONE.step);
  if (steps < 5) return null;
  const reach = new Float64Array(steps).fill(-Infinity);
  const at = new Float64Array(steps);
  for (let i = 0; i < p.length; i += 3) {
    const k = Math.floor((p[i + 2] - floor) / ANKLE_BONE.step);
    if (k < 0 || k >= steps || p[i] < ANKLE_BONE.from * fl || p[i] > ANKLE_BONE.to * fl) continue;
    if (m * p[i + 1] > reach[k]) [reach[k], at[k]] = [m * p[i + 1], p[i]];
  }
  const even = reach.map((r, k) => (reach[Math.max(0, k - 1)] + 2 * r + reach[Math.min(steps - 1, k + 1)]) / 4);
  let best = -1;
  let most: number = ANKLE_BONE.prominence;
  for (let k = 1; k + 1 < steps; k++) {
    if (!(even[k] >= even[k - 1] && even[k] > even[k + 1])) continue;
    const stands = Math.min(even[k] - lowestUntilHigher(even, k, -1), even[k] - lowestUntilHigher(even, k, 1));
    if (stands > most) {
      most = stands;
      best = k;
    }
  }
  if (best < 0) return null;
  const below = even[best - 1];
  const top = even[best];
  const above = even[best + 1];
  const shift = (below - above) / (2 * (below - 2 * top + above));
  return [at[best], m * reach[best], floor + ANKLE_BONE.step * (best + 0.5 + shift)];
}

/** The lowest value from k on in a direction, up to where one is higher than that at k. */
function lowestUntilHigher(values: Float64Array, k: number, direction: 1 | -1): number {
  let lowest = values[k];
  for (let i = k + direction; i >= 0 && i < values.length && values[i] <= values[k]; i += direction) lowest = Math.min(lowest, values[i]);
  return lowest;
}
