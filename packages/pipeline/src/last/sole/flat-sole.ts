import { aheadOfBallLine } from '@cast-to-last/foot/ball-line';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { HeightOver } from './fair-sole.js';
import type { SoleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';

export const FLAT = {
  /** Where the sole is flat across, as shares of foot length along X: the heel seat ends; beyond the fade the waist begins. */
  seatTo: 0.2,
  seatFade: 0.3,
  /** Ahead of the line through the ball points, as shares of foot length: the waist ends, the tread begins and ends; beyond the fade the toes begin. The arch ends along that line, farther ahead on the inner side. */
  treadFade: -0.135,
  treadFrom: -0.055,
  treadTo: 0.05,
  treadToFade: 0.11,
  /** Distance of the stations along the foot, mm. */
  step: 3,
  /** Nothing nearer to the outline than this tells of the sole's line, mm. */
  rim: 6,
  /** A sole narrower than this at a station shows no line, mm. */
  narrowest: 20,
  /** Standard deviation of the blur along the foot, mm. */
  blur: 9,
  /** Steepest line across: tangent. */
  steepest: 0.14,
} as const;

export interface FlatSole {
  /** z of the straight line across at x, in y. */
  readonly height: HeightOver;
  /** 1 on tread and heel seat, 0 in the waist and under the toes. */
  readonly weight: HeightOver;
}

const smooth = (from: number, to: number, at: number): number => {
  const t = Math.max(0, Math.min(1, (at - from) / (to - from)));
  return t * t * t * (10 + t * (6 * t - 15));
};

/**
 * A sole that is straight across at every place along the foot: the line that fits the sole best there, put down so far
 * that the foot stands on it and is nowhere cut, and made fair along the foot.
 *
 * @param sole the fair sole
 * @param toToes whether the tread's line goes on under levelled toes
 * @returns null where the sole is too narrow everywhere
 */
export function flatSole(sole: HeightOver, map: SoleMap, outline: SoleOutline, landmarks: Landmarks, toToes: boolean): FlatSole | null {
  const stations = linesAcross(sole, breadths(outline, map));
  if (stations === null) return null;
  const { first, level, slope } = stations;
  const at = (values: Float64Array, x: number): number => {
    const s = (x - first) / FLAT.step;
    const i = Math.max(0, Math.min(values.length - 2, Math.floor(s)));
    // Beyond the ends the line goes on as it does over the last stations.
    return values[i] + (s - i) * (values[i + 1] - values[i]);
  };
  const fl = landmarks.footLength;
  return {
    height: (x, y) => at(level, x) + at(slope, x) * y,
    weight: (x, y) => {
      const rear = 1 - smooth(FLAT.seatTo * fl, FLAT.seatFade * fl, x);
      const ahead = aheadOfBallLine(x, y, landmarks);
      const front = smooth(FLAT.treadFade * fl, FLAT.treadFrom * fl, ahead);
      const toes = toToes ? 1 : 1 - smooth(FLAT.treadTo * fl, FLAT.treadToFade * fl, ahead);
      return Math.max(rear, front * toes);
    },
  };
}

/** Least and greatest y of the sole's inside at stations along x; empty stations have NaN. */
function breadths(outline: SoleOutline, map: SoleMap): { first: number; low: Float64Array; high: Float64Array } {
  const first = map.origin[0];
  const count = Math.ceil((map.columns * map.cell) / FLAT.step);
  const low = new Float64Array(count).fill(NaN);
  const high = new Float64Array(count).fill(NaN);
  for (let s = 0; s < outline.count; s++) {
    const [x, y] = [0, 1].map((k) => outline.points[2 * s + k] - FLAT.rim * outline.outward[2 * s + k]);
    const i = Math.round((x - first) / FLAT.step);
    if (i < 0 || i >= count) continue;
    if (!(low[i] <= y)) low[i] = y;
    if (!(high[i] >= y)) high[i] = y;
  }
  return { first, low, high };
}

/** Level at y = 0 and slope of the line across at each station, fair along the foot. */
function linesAcross(sole: HeightOver, { first, low, high }: ReturnType<typeof breadths>): { first: number; level: Float64Array; slope: Float64Array } | null {
  const wide = (i: number): boolean => high[i] - low[i] >= FLAT.narrowest;
  let from = 0;
  let to = low.length - 1;
  while (from < low.length && !wide(from)) from++;
  while (to >= 0 && !wide(to)) to--;
  if (to - from < 3) return null;
  const count = to - from + 1;
  const rows = Array.from({ length: count }, (_, k) => {
    const i = from + k;
    const [a, b] = wide(i) ? [low[i], high[i]] : [-FLAT.narrowest / 2, FLAT.narrowest / 2];
    return Float64Array.from({ length: 25 }, (_none, j) => a + ((b - a) * j) / 24);
  });
  const x = (k: number): number => first + (from + k) * FLAT.step;
  const heights = rows.map((row, k) => row.map((y) => sole(x(k), y)));
  const slope = fairAlong(Float64Array.from(rows, (row, k) => Math.max(-FLAT.steepest, Math.min(FLAT.steepest, slopeOf(row, heights[k])))));
  const least = (level: Float64Array | null): Float64Array =>
    Float64Array.from(rows, (row, k) => row.reduce((lowest, y, j) => Math.min(lowest, heights[k][j] - slope[k] * y - (level === null ? 0 : level[k])), Infinity));
  const level = fairAlong(least(null));
  // What the blur lifted into the foot is put down again, itself made fair.
  for (let round = 0; round < 3; round++) {
    const over = fairAlong(least(level).map((gap) => Math.min(0, gap)));
    for (let k = 0; k < count; k++) level[k] += 1.5 * over[k];
  }
  return { first: x(0), level, slope };
}

function slopeOf(y: Float64Array, z: Float64Array): number {
  const [my, mz] = [y, z].map((values) => values.reduce((sum, v) => sum + v, 0) / values.length);
  let yy = 0;
  let yz = 0;
  for (let j = 0; j < y.length; j++) {
    yy += (y[j] - my) ** 2;
    yz += (y[j] - my) * (z[j] - mz);
  }
  return yz / yy;
}

/** Blurred along the foot by fitting a line near each station, so that slopes stay and ends do not sag. */
function fairAlong(values: Float64Array): Float64Array {
  const sigma = FLAT.blur / FLAT.step;
  return values.map((_, i) => {
    let w = 0;
    let wx = 0;
    let wxx = 0;
    let wv = 0;
    let wxv = 0;
    for (let j = 0; j < values.length; j++) {
      const d = j - i;
      const g = Math.exp(-(d * d) / (2 * sigma * sigma));
      w += g;
      wx += g * d;
      wxx += g * d * d;
      wv += g * values[j];
      wxv += g * d * values[j];
    }
    return (wv * wxx - wxv * wx) / (w * wxx - wx * wx);
  });
}
