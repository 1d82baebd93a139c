import { heightsRound } from './cross-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';

export const TWO_EDGES = {
  /** How far beside the edges the flaps are looked at, mm, and over what length the foot's own shape bends once more, mm. */
  beside: 9,
  footBends: 8,
  /** How a lip fades away on its flap: over what length, mm, and how roundly (1 from a kink, 2 without one). */
  lips: [[1.5, 1], [3.5, 1], [2.5, 2]],
  /** Half widths of a single line of any shape, mm. */
  anyLine: [1.8, 2.8],
  /** How steep a single step is and how slowly its flap comes back to its place, mm; half width of the seam at it, mm. */
  stepEdge: 1,
  stepBack: 12,
  stepSeam: 2,
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

type Feature = (u: number) => number;

/** The window for a gap of so many samples. */
export function gapWindow(samples: number): GapWindow {
  const { beside, footBends } = TWO_EDGES;
  const half = Math.ceil(samples / 2) + beside / TOP_MAP.step;
  const degree = 3 + Math.round((samples * TOP_MAP.step) / footBends);
  const foot: Float64Array[] = [];
  for (let k = 0; k <= degree; k++) addOrthonormal(foot, [], Float64Array.from({ length: 2 * half + 1 }, (_, i) => ((i - half) / half) ** k));
  return { half, foot };
}

/**
 * What a gap adds, for each pair of lips that it may have: the lips, each running out on its flap and straight to the other
 * edge, and the bulge between.
 *
 * @param low and high: the edges, samples from the window's middle
 */
export function gapShapes(window: GapWindow, low: number, high: number): Added[] {
  const a = low * TOP_MAP.step;
  const b = high * TOP_MAP.step;
  const share = (u: number): number => (u - a) / (b - a);
  const shapes: Added[] = [];
  for (const left of TWO_EDGES.lips) {
    for (const right of TWO_EDGES.lips) {
      shapes.push(addedBy(window, [
        (u) => (u <= a ? lip(left, a - u) : Math.max(0, 1 - share(u))),
        (u) => (u >= b ? lip(right, u - b) : Math.max(0, share(u))),
        (u) => (u <= a || u >= b ? 0 : share(u) * (1 - share(u))),
      ]));
    }
  }
  return shapes;
}

const lip = (kind: readonly [number, number], out: number): number => Math.exp(-((out / kind[0]) ** kind[1]));

/** What a single line of any shape at a sample from the window's middle adds: whatever has died away after twice its half width. */
export const lineShapes = (window: GapWindow, sample: number): Added[] => TWO_EDGES.anyLine.map((half) => addedBy(window, lineFeatures(sample, half, 4)));

/** What a single step with a seam at it adds. */
export function stepShape(window: GapWindow, sample: number): Added {
  const { stepEdge, stepBack, stepSeam } = TWO_EDGES;
  const c = sample * TOP_MAP.step;
  const flap = (u: number): number => 0.5 * (1 + Math.tanh(u / stepEdge)) * (u > 0 ? Math.exp(-u / stepBack) : 1);
  return addedBy(window, [(u) => flap(u - c), (u) => flap(c - u), ...lineFeatures(sample, stepSeam, 2)]);
}

/** The first Hermite functions round a sample. */
function lineFeatures(sample: number, half: number, count: number): Feature[] {
  const x = (u: number): number => (u - sample * TOP_MAP.step) / half;
  return Array.from({ length: count }, (_, power) => (u: number) => x(u) ** power * Math.exp(-(x(u) ** 2)));
}

function addedBy({ half, foot }: GapWindow, features: readonly Feature[]): Added {
  const own: Float64Array[] = [];
  for (const f of features) addOrthonormal(own, foot, Float64Array.from({ length: 2 * half + 1 }, (_, i) => f((i - half) * TOP_MAP.step)));
  return own;
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
  const spread = (sum: number): number => Math.max(0, sum) / samples + TWO_EDGES.noise ** 2;
  return ((samples * TOP_MAP.step) / TWO_EDGES.ownLength) * Math.log(spread(other) / spread(unexplained));
}

/** What a shape leaves unexplained that is likelier than one that leaves `unexplained` by −`gain`. */
export function leftWhere(unexplained: number, gain: number, samples: number): number {
  const spread = Math.max(0, unexplained) / samples + TWO_EDGES.noise ** 2;
  return samples * (spread * Math.exp((gain * TWO_EDGES.ownLength) / (samples * TOP_MAP.step)) - TWO_EDGES.noise ** 2);
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
