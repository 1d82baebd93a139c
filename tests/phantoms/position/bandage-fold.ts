import { smoothMax, smoothStep, type Field } from '../surface/implicit.js';
import type { Random } from '../random.js';
import type { Fold } from './position.js';

export interface ToeEnd {
  /** x and y of the longest toe's tip. */
  readonly tip: readonly [number, number];
  /** Middle between the borders where the toes begin. */
  readonly middleY: number;
  readonly ballWidth: number;
  /** Height at which the sole will be pressed flat. */
  readonly floor: number;
}

/** How far the fold reaches back over or under the toes, mm. */
const REACH_BACK = 32;

/**
 * A flap of bandage round the toe end of a flat right foot: a slab that follows the line of the toes, with a rounded outline and
 * edges, thinner towards its end, a little wrinkled; on the floor, or a toe's height over it.
 */
export function foldOf({ lengthMm, thicknessMm, where, breadth }: Fold, { tip, middleY, ballWidth, floor }: ToeEnd, random: Random): Field {
  const half = (REACH_BACK + lengthMm) / 2;
  const middle = tip[0] + lengthMm - half;
  const side = (breadth * ballWidth) / 2;
  const recede = random.between(0.3, 0.45);
  const bottom = where === 'under' ? floor - 3 : floor + random.between(4, 7);
  const lift = where === 'under' ? 0 : random.between(-0.05, 0.05);
  const wrinkles = [0, 1].map(() => ({ high: random.between(0.25, 0.7), long: random.between(8, 16), lean: random.between(-0.5, 0.5), phase: random.between(0, 6.3) }));
  const round = 0.4 * thicknessMm;
  return (x, y, z) => {
    // The toes' ends lie further back towards the little toe.
    const outer = tip[1] - 6 - y;
    const along = (x - middle + recede * 0.5 * (outer + Math.sqrt(outer * outer + 300)) - 4) / half;
    const across = (y - middleY) / (side * (1 - 0.2 * smoothStep(-0.2, 1, along)));
    const outline = Math.sqrt(Math.sqrt(along ** 4 + across ** 4 + 1e-8)) - 1;
    let height = (where === 'under' ? 3 : 0) + thicknessMm * (1 - 0.3 * smoothStep(-0.4, 1, along));
    for (const w of wrinkles) height += w.high * Math.sin((2 * Math.PI * (x + w.lean * y)) / w.long + w.phase) * smoothStep(0.1, -0.25, outline);
    const base = bottom + lift * (x - tip[0]);
    const flat = smoothMax(z - base - height, base - z, 0.35 * thicknessMm);
    return smoothMax(Math.min(half, side) * outline, 0.93 * flat, round);
  };
}
