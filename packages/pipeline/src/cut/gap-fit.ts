import { heightsRound } from './cross-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';

export const GAP_FIT = {
  /** The edges are sought within so many samples of where the lines were found. */
  within: 5,
  /** How far beside the edges the flaps are looked at, mm, and over what length the foot's own shape bends once more, mm. */
  beside: 9,
  footBends: 8,
  /** Length in which a lip fades away on the flap, mm: the sharp part of it, which tells the edge. */
  lipFades: 2,
  /** Half width of a single line of any shape, mm: a seam with its ridge, hollow and step, 8 mm wide in all. */
  anyLine: 2.8,
  /** Departures below this are not told from noise, mm; how many mm of a section tell of their own. */
  noise: 0.04,
  ownLength: 2,
} as const;

/** What the section at one station says of a gap. */
export interface GapFit {
  /** Distance of the lines at its edges, mm. */
  readonly width: number;
  /** How much better two edges explain the section than one line of whatever shape: a difference of log likelihoods. */
  readonly gain: number;
}

/**
 * The gap at one station: of all places of its two edges near those given the ones with which a foot, two lips that fade
 * away on the flaps and a strip that runs from lip to lip come nearest to the section.
 *
 * @param low sample of the edge on the −y side
 * @param high sample of the edge on the +y side
 * @returns null where the section is too short
 */
export function fitGap(map: TopMap, station: number, low: number, high: number): GapFit | null {
  const d = GAP_FIT;
  const middle = (low + high) >> 1;
  const half = Math.ceil((high - low) / 2) + d.beside / TOP_MAP.step;
  const heights = new Float64Array(2 * half + 1);
  if (!heightsRound(map, station, middle, heights)) return null;
  const degree = 3 + Math.round(((high - low) * TOP_MAP.step) / d.footBends);
  const foot: Float64Array[] = [];
  for (let k = 0; k <= degree; k++) addOrthonormal(foot, Float64Array.from(heights, (_, i) => ((i - half) / half) ** k));
  const rest = heights.slice();
  for (const q of foot) takeOff(rest, q);
  const sampled = (f: Feature): Float64Array => Float64Array.from(heights, (_, i) => f((i - half) * TOP_MAP.step));
  const placed = (sample: number): number => (sample - middle) * TOP_MAP.step;
  let width = 0;
  let two = 0;
  for (let a = low - d.within; a <= low + d.within; a++) {
    for (let b = high - d.within; b <= high + d.within; b++) {
      if (b - a < 4) continue;
      const share = explained(foot, gapFeatures(placed(a), placed(b)).map(sampled), rest);
      if (share <= two) continue;
      two = share;
      width = (b - a) * TOP_MAP.step;
    }
  }
  if (width === 0) return null;
  let one = 0;
  for (let c = low - d.within; c <= high + d.within; c++) one = Math.max(one, explained(foot, lineFeatures(placed(c)).map(sampled), rest));
  const total = dot(rest, rest);
  const spread = (unexplained: number): number => Math.max(0, unexplained) / heights.length + d.noise ** 2;
  return { width, gain: ((heights.length * TOP_MAP.step) / d.ownLength) * Math.log(spread(total - one) / spread(total - two)) };
}

type Feature = (u: number) => number;

/** The lips at both edges, each running out on its flap and straight to the other edge, and the bulge between. */
function gapFeatures(a: number, b: number): Feature[] {
  const share = (u: number): number => Math.max(0, Math.min(1, (u - a) / (b - a)));
  const { lipFades } = GAP_FIT;
  return [
    (u) => (u <= a ? Math.exp((u - a) / lipFades) : 1 - share(u)),
    (u) => (u >= b ? Math.exp((b - u) / lipFades) : share(u)),
    (u) => (u <= a || u >= b ? 0 : (4 * (u - a) * (b - u)) / (b - a) ** 2),
  ];
}

/** Whatever has died away after twice its half width: the first Hermite functions. */
const lineFeatures = (c: number): Feature[] =>
  [0, 1, 2, 3].map((power) => (u: number) => ((u - c) / GAP_FIT.anyLine) ** power * Math.exp(-(((u - c) / GAP_FIT.anyLine) ** 2)));

/** How much of the rest, squared, the columns explain that the foot does not. */
function explained(foot: readonly Float64Array[], columns: readonly Float64Array[], rest: Float64Array): number {
  const own: Float64Array[] = [];
  for (const column of columns) {
    for (const q of foot) takeOff(column, q);
    addOrthonormal(own, column);
  }
  return own.reduce((sum, q) => sum + dot(rest, q) ** 2, 0);
}

function addOrthonormal(to: Float64Array[], column: Float64Array): void {
  const rest = column.slice();
  for (let pass = 0; pass < 2; pass++) for (const q of to) takeOff(rest, q);
  const length = Math.hypot(...rest);
  if (length > 1e-9) to.push(rest.map((x) => x / length));
}

function takeOff(from: Float64Array, q: Float64Array): void {
  const along = dot(from, q);
  for (let i = 0; i < from.length; i++) from[i] -= along * q[i];
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
