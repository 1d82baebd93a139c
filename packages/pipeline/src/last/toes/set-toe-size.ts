import { smoothStep } from '../ease/smooth-step.js';
import type { ToeLine } from './toe-frame.js';
import { ahead } from './toe-frame.js';
import { shareAhead } from './toe-points.js';

/** From what share of foot length on the toe box is measured: as the toe height of the foot. */
export const BOX_FROM = 0.9;

export interface ToeSize {
  /** Greatest x, mm. */
  readonly tip: number;
  /** Which vertex has it. */
  readonly tipVertex: number;
  /** Least and greatest z of the part with x ≥ 0.90 of foot length, mm. */
  readonly low: number;
  readonly high: number;
}

export function toeSize(p: Float64Array, footLength: number): ToeSize {
  let tip = -Infinity;
  let tipVertex = 0;
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] > tip) {
      tip = p[i];
      tipVertex = i / 3;
    }
    if (p[i] < BOX_FROM * footLength) continue;
    low = Math.min(low, p[i + 2]);
    high = Math.max(high, p[i + 2]);
  }
  return { tip, tipVertex, low, high };
}

/** Moves the toe part ahead by `by` mm, in place: nothing at the start, all of it from `full` mm on. */
export function moveAhead(p: Float64Array, start: ToeLine, full: number, by: number): void {
  for (let i = 0; i < p.length; i += 3) p[i] += by * shareAhead(start, full, p[i], p[i + 1]);
}

/** Draws what lies ahead of x = `tip` together until it reaches `most` mm beyond, in place; the rest stays. */
export function shorten(p: Float64Array, tip: number, most: number): void {
  let longest = most;
  for (let i = 0; i < p.length; i += 3) longest = Math.max(longest, p[i] - tip);
  const by = 1 / most - 1 / longest;
  for (let i = 0; i < p.length; i += 3) if (p[i] > tip) p[i] = tip + (p[i] - tip) / (1 + by * (p[i] - tip));
}

/** Share of the way over which the raise sets in, and ends; between it grows evenly, so that no hump comes up behind the toes. */
const SETS_IN = 0.35;

/** 0 up to t = 0, 1 from t = 1, without a bend, and straight in between. */
function evenRise(t: number): number {
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  const scale = 2 * SETS_IN * (1 - SETS_IN);
  if (t < SETS_IN) return (t * t) / scale;
  if (t > 1 - SETS_IN) return 1 - ((1 - t) * (1 - t)) / scale;
  return (SETS_IN * SETS_IN + 2 * SETS_IN * (t - SETS_IN)) / scale;
}

/**
 * Raises the toe box by `by` mm, in place: its top wholly, its lowest place not, nothing at the start and all from where the
 * box is measured.
 */
export function raiseBox(p: Float64Array, start: ToeLine, footLength: number, { low, high }: Pick<ToeSize, 'low' | 'high'>, by: number): void {
  for (let i = 0; i < p.length; i += 3) {
    const from = ahead(start, p[i], p[i + 1]);
    if (from <= 0) continue;
    const way = Math.max(from + BOX_FROM * footLength - p[i], 1);
    p[i + 2] += by * evenRise(from / way) * smoothStep((p[i + 2] - low) / (high - low));
  }
}
