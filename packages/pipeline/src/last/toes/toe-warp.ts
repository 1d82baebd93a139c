import { smoothStep } from '../ease/smooth-step.js';
import type { ToeLine } from './toe-frame.js';
import { ahead } from './toe-frame.js';

/** Length of the steps in which a profile is read, and from how far around the start its slope is, mm. */
const STEP = 2;
const SLOPE_WITHIN = 6;
/** Nearer to the start than this, mm, a profile need not clear the foot: there the foot's own surface goes over into the box. */
const CLEAR_FROM = 12;
/** Half the height over which the scale of the upper half goes over to that of the lower, mm. */
const BLEND = 9;
/** A profile never comes nearer to the middle than this, mm. */
const LEAST = 3;

/**
 * One half of the side view ahead of the start, as heights over (or under) the middle: a parabola that goes on from the foot
 * with its own slope and clears the toes with the least bend, or a straight line where that clears them.
 */
interface Profile {
  readonly height: number;
  readonly slope: number;
  readonly bend: number;
}

/**
 * A stretch of heights ahead of the start under which both profiles become straight. In the stretched space the convex hull
 * of the toes bridges hollows along straight lines, and back in the foot along curves that go on from the instep and the
 * ball: the dorsum keeps its hollow sweep, and joins without a bend.
 */
export interface ToeWarp {
  readonly start: ToeLine;
  /** Length of the toe part, mm. */
  readonly length: number;
  /** z of the middle at the start and at the end. */
  readonly middle: readonly [number, number];
  readonly upper: Profile;
  readonly lower: Profile;
}

/**
 * @param body all positions of the foot
 * @param points those ahead of the start, with the allowance
 */
export function toeWarp(body: Float64Array, points: Float64Array, start: ToeLine): ToeWarp {
  const seen = sideView(points, start, 0, Infinity);
  const length = seen.highs.length * STEP;
  const last = Math.max(0, seen.highs.length - 4);
  const middle = [(seen.highs[0] + seen.lows[0]) / 2, (seen.highs[last] + seen.lows[last]) / 2] as const;
  const around = sideView(body, start, -SLOPE_WITHIN, SLOPE_WITHIN);
  const half = (sign: 1 | -1): Profile => {
    const over = (values: readonly number[], from: number): number[] => values.map((z, i) => sign * (z - middleAt(middle, length, from + (i + 0.5) * STEP)));
    return clearing(over(sign > 0 ? seen.highs : seen.lows, 0), over(sign > 0 ? around.highs : around.lows, -SLOPE_WITHIN), length);
  };
  return { start, length, middle, upper: half(1), lower: half(-1) };
}

const middleAt = (middle: readonly [number, number], length: number, s: number): number => middle[0] + ((middle[1] - middle[0]) * s) / length;

/** Highest and lowest point of each step ahead of the start; steps without a point repeat the one before. */
function sideView(p: Float64Array, start: ToeLine, from: number, to: number): { highs: number[]; lows: number[] } {
  const highs: number[] = [];
  const lows: number[] = [];
  for (let i = 0; i < p.length; i += 3) {
    const s = ahead(start, p[i], p[i + 1]);
    if (s < from || s >= to) continue;
    const k = Math.floor((s - from) / STEP);
    highs[k] = Math.max(highs[k] ?? -Infinity, p[i + 2]);
    lows[k] = Math.min(lows[k] ?? Infinity, p[i + 2]);
  }
  for (let k = 0; k < highs.length; k++) {
    highs[k] ??= highs[k - 1] ?? 0;
    lows[k] ??= lows[k - 1] ?? 0;
  }
  return { highs, lows };
}

/** The least bent parabola that starts like the heights around the start and clears those ahead of it. */
function clearing(ahead: readonly number[], around: readonly number[], length: number): Profile {
  const n = around.length;
  const mean = around.reduce((sum, h) => sum + h, 0) / n;
  let up = 0;
  let across = 0;
  around.forEach((h, i) => {
    const s = (i + 0.5) * STEP - SLOPE_WITHIN;
    up += s * (h - mean);
    across += s * s;
  });
  const slope = up / across;
  const height = Math.max(mean, LEAST);
  let bend = 0;
  ahead.forEach((h, i) => {
    const s = (i + 0.5) * STEP;
    if (s > CLEAR_FROM) bend = Math.max(bend, (Math.max(h, LEAST) - height - slope * s) / (s * s));
  });
  // Nor does it come down to the middle before the end.
  for (let s = STEP; s <= length; s += STEP) bend = Math.max(bend, (LEAST - height - slope * s) / (s * s));
  return { height, slope, bend };
}

/** By what the heights of a half are multiplied at s. */
function scaleAt({ height, slope, bend }: Profile, s: number, length: number): number {
  const t = Math.min(s, length);
  const end = height + slope * length + bend * length * length;
  return (height + ((end - height) * t) / length) / (height + slope * t + bend * t * t);
}

/** Stretches the heights of points more than `from` mm ahead of the start, in place; the others stay bit for bit. */
export function stretchHeights(p: Float64Array, warp: ToeWarp, from: number): void {
  for (let i = 0; i < p.length; i += 3) {
    const s = ahead(warp.start, p[i], p[i + 1]);
    if (s > from) p[i + 2] = stretched(warp, s, p[i + 2]);
  }
}

/** Takes the stretch of points ahead of the start back, in place. */
export function unstretchHeights(p: Float64Array, warp: ToeWarp): void {
  for (let i = 0; i < p.length; i += 3) {
    const s = ahead(warp.start, p[i], p[i + 1]);
    if (s > 0) p[i + 2] = unstretched(warp, s, p[i + 2]);
  }
}

function stretched({ upper, lower, middle, length }: ToeWarp, s: number, z: number): number {
  const over = z - middleAt(middle, length, s);
  const below = scaleAt(lower, s, length);
  return z + over * (below + (scaleAt(upper, s, length) - below) * smoothStep((over + BLEND) / (2 * BLEND)) - 1);
}

function unstretched(warp: ToeWarp, s: number, z: number): number {
  const { upper, lower, length } = warp;
  const middle = middleAt(warp.middle, length, s);
  const over = z - middle;
  const above = scaleAt(upper, s, length);
  const below = scaleAt(lower, s, length);
  if (over / above >= BLEND) return middle + over / above;
  if (over / below <= -BLEND) return middle + over / below;
  let low = middle - BLEND;
  let high = middle + BLEND;
  for (let round = 0; round < 34; round++) {
    const mid = (low + high) / 2;
    if (stretched(warp, s, mid) < z) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
