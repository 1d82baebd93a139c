import { heightsRound } from './cross-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';

export const SECTION_SHAPES = {
  /** How far beside the edges of a gap the flaps are looked at, mm, and over what length the foot's own shape bends once more, mm. */
  beside: 9,
  footBends: 8,
  /** Departures below this are not told from noise, mm; how many mm of a section tell of their own. */
  noise: 0.04,
  ownLength: 2,
} as const;

/** What is fitted to a section: the foot's own shape first, what is left of the section then. */
export interface GapWindow {
  /** Samples to each side of its middle. */
  readonly half: number;
  /** Orthonormal. */
  readonly foot: readonly Float64Array[];
}

/** What a shape adds to the foot in a window: orthonormal vectors. */
export type Added = readonly Float64Array[];

/** A height, by mm from the window's middle. */
export type Feature = (u: number) => number;

/** The window for a gap of so many samples. */
export function gapWindow(samples: number): GapWindow {
  const { beside, footBends } = SECTION_SHAPES;
  const half = Math.ceil(samples / 2) + beside / TOP_MAP.step;
  const degree = 3 + Math.round((samples * TOP_MAP.step) / footBends);
  const foot: Float64Array[] = [];
  for (let k = 0; k <= degree; k++) addOrthonormal(foot, [], Float64Array.from({ length: 2 * half + 1 }, (_, i) => ((i - half) / half) ** k));
  return { half, foot };
}

/** What features across the section, each a height by mm from the window's middle, add to the foot together. */
export function addedBy({ half, foot }: GapWindow, features: readonly Feature[]): Added {
  const own: Float64Array[] = [];
  for (const f of features) addOrthonormal(own, foot, Float64Array.from({ length: 2 * half + 1 }, (_, i) => f((i - half) * TOP_MAP.step)));
  return own;
}

/** Whatever has died away round a sample after twice a half width, mm: the first Hermite functions. */
export function lineFeatures(sample: number, half: number, count: number): Feature[] {
  const x = (u: number): number => (u - sample * TOP_MAP.step) / half;
  return Array.from({ length: count }, (_, power) => (u: number) => x(u) ** power * Math.exp(-(x(u) ** 2)));
}

/** What the foot leaves of the section round a sample; null where the window is not whole. */
export function leftByFoot(map: TopMap, station: number, sample: number, { half, foot }: GapWindow): Float64Array | null {
  const rest = new Float64Array(2 * half + 1);
  if (!heightsRound(map, station, sample, rest)) return null;
  for (const q of foot) takeOff(rest, q);
  return rest;
}

/**
 * How much of what the foot leaves, squared, the one of some shapes explains that explains most of it.
 *
 * @param enough from there on no better one is looked for
 */
export function explainedBy(shapes: readonly Added[], rest: Float64Array, enough = Infinity): number {
  let most = 0;
  for (let n = 0; n < shapes.length && most < enough; n++) {
    const vectors = shapes[n];
    let share = 0;
    for (let k = 0; k < vectors.length; k++) {
      const along = dot(rest, vectors[k]);
      share += along * along;
    }
    if (share > most) most = share;
  }
  return most;
}

/** How much likelier a section is whose shape leaves so much of it unexplained than one that leaves `other`, squared sums of as many samples: a difference of log likelihoods. */
export function likelier(unexplained: number, other: number, samples: number): number {
  const spread = (sum: number): number => Math.max(0, sum) / samples + SECTION_SHAPES.noise ** 2;
  return ((samples * TOP_MAP.step) / SECTION_SHAPES.ownLength) * Math.log(spread(other) / spread(unexplained));
}

/** What a shape leaves unexplained that is likelier than one that leaves `unexplained` by −`gain`. */
export function leftWhere(unexplained: number, gain: number, samples: number): number {
  const spread = Math.max(0, unexplained) / samples + SECTION_SHAPES.noise ** 2;
  return samples * (spread * Math.exp((gain * SECTION_SHAPES.ownLength) / (samples * TOP_MAP.step)) - SECTION_SHAPES.noise ** 2);
}

/** The sum of squares of what is left of a section. */
export const squares = (rest: Float64Array): number => dot(rest, rest);

function addOrthonormal(to: Float64Array[], before: readonly Float64Array[], column: Float64Array): void {
  const rest = column.slice();
  for (let pass = 0; pass < 2; pass++) {
    for (const q of before) takeOff(rest, q);
    for (const q of to) takeOff(rest, q);
  }
  const length = Math.sqrt(dot(rest, rest));
  if (length > 1e-6) to.push(rest.map((x) => x / length));
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
