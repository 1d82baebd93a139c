import { ACROSS, TOP_MAP } from './top-map.js';
import type { TopMap } from './top-map.js';

export const CROSS_SHAPES = {
  /** How far beside a line a section is looked at, mm, and the degree of the polynomial that the foot itself takes there. */
  beside: 9,
  degree: 3,
  /** Half widths of a seam, mm. */
  seams: [2, 3, 4.2],
  /** Half width of a line of any shape, mm. */
  anyLine: 2.8,
  /** How steep a step is and how slowly its flap comes back to its place, mm. */
  stepEdge: 1,
  stepBack: 12,
  /** Length in which the lip at a gap's edge fades away on the flap, mm. */
  lipFades: 3.5,
  /** How far into a gap its edge is looked at, mm: as far as the gap is wide enough. */
  insides: [3, 6, 9],
  /** Departures below this are not told from noise, mm; how many mm of a section tell of their own. */
  noise: 0.04,
  ownLength: 2,
  /** Lips no higher than this are the edges of a gap, mm. */
  highestLip: 3,
} as const;

/** Samples to each side of the middle that a window holds, and the whole window. */
const HALF = Math.round(CROSS_SHAPES.beside / TOP_MAP.step);
export const SAMPLES = 2 * HALF + 1;

/** First and last sample of the map round which a window fits. */
export const CENTRES = { first: HALF, last: ACROSS - 1 - HALF } as const;

/** Evidence for each line that may run along a cut, in the order in which it is given: seam, step, then for each of `insides` a gap's edge on the −y side and on the +y side. */
const EDGE_LINES = 2 * CROSS_SHAPES.insides.length;
export const LINES = { seam: 0, step: 1, edges: 2, widestLow: EDGE_LINES, widestHigh: EDGE_LINES + 1, count: 2 + EDGE_LINES } as const;

/** What a line adds to a section, u mm beside it. */
export type Feature = (u: number) => number;

/** A stretch of the section, and orthonormal vectors for the shape that the foot itself has there. */
interface Stretch {
  /** First sample among SAMPLES, and how many it has. */
  readonly first: number;
  readonly count: number;
  readonly foot: readonly Float64Array[];
}

/** A line's shape in its window: orthonormal vectors for what the line adds to the foot's own shape. */
interface Basis {
  readonly features: readonly Feature[];
  /** Index of the window in STRETCHES. */
  readonly window: number;
  readonly vectors: readonly Float64Array[];
  /** Upper triangle by rows: feature k is the sum over j ≤ k of triangle[j][k] times vector j (and of the foot). */
  readonly triangle: readonly Float64Array[];
}

/** The windows of all lines, each once. */
const STRETCHES: Stretch[] = [];

/** @param from and to: the window, mm */
function basisOf(from: number, to: number, features: readonly Feature[]): Basis {
  const low = Math.round(from / TOP_MAP.step);
  const high = Math.round(to / TOP_MAP.step);
  const first = HALF + low;
  const count = high - low + 1;
  const sampled = (f: Feature): Float64Array => Float64Array.from({ length: count }, (_, i) => f((i + low) * TOP_MAP.step));
  let window = STRETCHES.findIndex((other) => other.first === first && other.count === count);
  if (window < 0) {
    const powers = Array.from({ length: CROSS_SHAPES.degree + 1 }, (_, k) => sampled((u) => (u / CROSS_SHAPES.beside) ** k));
    window = STRETCHES.push({ first, count, foot: orthonormal(powers, []).vectors }) - 1;
  }
  return { features, window, ...orthonormal(features.map(sampled), STRETCHES[window].foot) };
}

function orthonormal(features: readonly Float64Array[], before: readonly Float64Array[]): Pick<Basis, 'vectors' | 'triangle'> {
  const vectors: Float64Array[] = [];
  const triangle = features.map(() => new Float64Array(features.length));
  features.forEach((feature, k) => {
    const rest = feature.slice();
    for (let pass = 0; pass < 2; pass++) {
      for (const q of before) takeOff(rest, q);
      vectors.forEach((q, j) => {
        triangle[j][k] += takeOff(rest, q);
      });
    }
    const length = Math.hypot(...rest);
    triangle[k][k] = length;
    vectors.push(rest.map((x) => x / length));
  });
  return { vectors, triangle };
}

function takeOff(from: Float64Array, q: Float64Array): number {
  const along = dot(from, q, 0);
  for (let i = 0; i < from.length; i++) from[i] -= along * q[i];
  return along;
}

/** The product of q with as many numbers of a from `first` on. */
function dot(a: Float64Array, q: Float64Array, first: number): number {
  let sum = 0;
  for (let i = 0; i < q.length; i++) sum += a[first + i] * q[i];
  return sum;
}

/** The same for several q of one length, two at a time: neither sum waits for the other. */
function dots(a: Float64Array, first: number, vectors: readonly Float64Array[], out: Float64Array): void {
  for (let k = 0; k < vectors.length; k += 2) {
    const q = vectors[k];
    const r = vectors[k + 1] ?? q;
    let one = 0;
    let other = 0;
    for (let i = 0; i < q.length; i++) {
      const height = a[first + i];
      one += height * q[i];
      other += height * r[i];
    }
    out[k] = one;
    if (k + 1 < vectors.length) out[k + 1] = other;
  }
}

const { beside } = CROSS_SHAPES;

/** A ridge or groove with a step that does not last. */
const seamOf = (half: number): Basis =>
  basisOf(-beside, beside, [
    (u) => (Math.abs(u) < half ? 0.5 * (1 + Math.cos((Math.PI * u) / half)) : 0),
    (u) => (u / half) * Math.exp(-((u / half) ** 2)),
  ]);

/** One flap higher than the other, each coming back to its place. */
const stepOf = (): Basis => {
  const { stepEdge, stepBack } = CROSS_SHAPES;
  const flap = (u: number): number => 0.5 * (1 + Math.tanh(u / stepEdge)) * (u > 0 ? Math.exp(-u / stepBack) : 1);
  return basisOf(-beside, beside, [flap, (u) => flap(-u)]);
};

/** A lip that fades away on the flap, and plaster that runs straight on from it. */
const edgeOf = (side: number, inside: number): Basis => {
  const lip = (out: number): number => (out > 0 ? Math.exp(-out / CROSS_SHAPES.lipFades) : 1);
  const strip = (out: number): number => Math.min(0, out);
  const [from, to] = side < 0 ? [-beside, inside] : [-inside, beside];
  return basisOf(from, to, [(u) => lip(side * u), (u) => strip(side * u)]);
};

const SEAMS = CROSS_SHAPES.seams.map(seamOf);
const STEP = stepOf();

/** Whatever a line may look like that has died away after twice its half width: the first Hermite functions. */
const ANY_LINE = basisOf(
  -beside, beside, [0, 1, 2, 3].map((power) => (u: number) => (u / CROSS_SHAPES.anyLine) ** power * Math.exp(-((u / CROSS_SHAPES.anyLine) ** 2))),
);
const EDGES = CROSS_SHAPES.insides.flatMap((inside) => [edgeOf(-1, inside), edgeOf(1, inside)]);

/** Heights of the section over its own chord round sample j, along the normal there; false where the window is not whole. */
export function heightsRound(map: TopMap, station: number, j: number, out: Float64Array): boolean {
  const { points: p, along } = map;
  const half = (out.length - 1) / 2;
  const index = (k: number): number => 3 * (station * ACROSS + k);
  if (j < half || j > ACROSS - 1 - half || Number.isNaN(p[index(j - half)]) || Number.isNaN(p[index(j + half)])) return false;
  const a = index(j - half);
  const b = index(j + half);
  const c = index(j);
  const tx = p[b] - p[a];
  const ty = p[b + 1] - p[a + 1];
  const tz = p[b + 2] - p[a + 2];
  const ax = along[3 * station];
  const az = along[3 * station + 2];
  let nx = ty * az;
  let ny = tz * ax - tx * az;
  let nz = -ty * ax;
  const length = Math.hypot(nx, ny, nz);
  nx /= length;
  ny /= length;
  nz /= length;
  for (let i = 0; i < out.length; i++) {
    const q = index(j - half + i);
    out[i] = nx * (p[q] - p[c]) + ny * (p[q + 1] - p[c + 1]) + nz * (p[q + 2] - p[c + 2]);
  }
  return true;
}

/**
 * How much better than the foot's own shape each of LINES explains the heights round a place: differences of log
 * likelihoods.
 *
 * @param heights SAMPLES numbers
 */
export function evidenceOf(heights: Float64Array, out: Float64Array): void {
  for (let w = 0; w < STRETCHES.length; w++) RESTS[w] = restOf(STRETCHES[w], heights);
  const along = ALONG;
  out[LINES.seam] = -Infinity;
  for (const seam of SEAMS) out[LINES.seam] = Math.max(out[LINES.seam], gainOf(seam, explained(seam, heights, along), RESTS));
  out[LINES.step] = gainOf(STEP, explained(STEP, heights, along), RESTS);
  for (let k = 0; k < EDGES.length; k++) {
    const { triangle } = EDGES[k];
    explained(EDGES[k], heights, along);
    const strip = along[1] / triangle[1][1];
    const lip = (along[0] - triangle[0][1] * strip) / triangle[0][0];
    out[LINES.edges + k] = Math.abs(lip) <= CROSS_SHAPES.highestLip ? gainOf(EDGES[k], along, RESTS) : -Infinity;
  }
}

/** For each of STRETCHES, what the foot alone leaves of the section at hand. */
const RESTS = new Float64Array(STRETCHES.length);
/** What a line at hand explains, and what the foot does: used again at each place, because there are very many. */
const ALONG = new Float64Array(Math.max(...[...SEAMS, STEP, ...EDGES].map(({ vectors }) => vectors.length)));
const OWN = new Float64Array(CROSS_SHAPES.degree + 1);

/** What a line adds to the section, u mm beside it: what is there within some millimetres, whatever its shape, or a step. */
export function lineIn(heights: Float64Array): Feature {
  const [any, step] = [ANY_LINE, STEP].map((basis) => explained(basis, heights, new Float64Array(basis.vectors.length)));
  const rests = Float64Array.from(STRETCHES, (stretch) => restOf(stretch, heights));
  const isStep = gainOf(STEP, step, rests) > gainOf(ANY_LINE, any, rests);
  const [basis, along] = isStep ? [STEP, step] : [ANY_LINE, any];
  const shares = new Float64Array(along.length);
  for (let k = along.length - 1; k >= 0; k--) {
    let left = along[k];
    for (let j = k + 1; j < along.length; j++) left -= basis.triangle[k][j] * shares[j];
    shares[k] = left / basis.triangle[k][k];
  }
  return (u) => basis.features.reduce((sum, feature, k) => sum + shares[k] * feature(u), 0);
}

/** The products of a line's vectors with the heights, written to `along`. */
function explained({ vectors, window }: Basis, heights: Float64Array, along: Float64Array): Float64Array {
  dots(heights, STRETCHES[window].first, vectors, along);
  return along;
}

/** The sum of squares that the foot's own shape leaves of the heights in a window. */
function restOf({ foot, first, count }: Stretch, heights: Float64Array): number {
  let rest = 0;
  for (let i = first; i < first + count; i++) rest += heights[i] * heights[i];
  dots(heights, first, foot, OWN);
  for (let k = 0; k < foot.length; k++) rest -= OWN[k] * OWN[k];
  return rest;
}

/** @param rests what the foot alone leaves, for each of STRETCHES */
function gainOf({ window, vectors }: Basis, along: Float64Array, rests: Float64Array): number {
  const { count } = STRETCHES[window];
  let share = 0;
  for (let k = 0; k < vectors.length; k++) share += along[k] * along[k];
  return ((count * TOP_MAP.step) / CROSS_SHAPES.ownLength) * Math.log(spread(rests[window], count) / spread(rests[window] - share, count));
}

const spread = (unexplained: number, count: number): number => Math.max(0, unexplained) / count + CROSS_SHAPES.noise * CROSS_SHAPES.noise;
