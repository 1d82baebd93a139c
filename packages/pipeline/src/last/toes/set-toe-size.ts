import { smoothStep } from '../ease/smooth-step.js';
import type { ToeLine } from './toe-frame.js';
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
  let [tip, tipVertex, low, high] = [-Infinity, 0, Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] > tip) [tip, tipVertex] = [p[i], i / 3];
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

/** Raises the toe box by `by` mm, in place: its top wholly, its lowest place not, nothing at the start and all from `full` mm on. */
export function raiseBox(p: Float64Array, start: ToeLine, full: number, { low, high }: Pick<ToeSize, 'low' | 'high'>, by: number): void {
  for (let i = 0; i < p.length; i += 3) {
    const share = shareAhead(start, full, p[i], p[i + 1]);
    if (share > 0) p[i + 2] += by * share * smoothStep((p[i + 2] - low) / (high - low));
  }
}
