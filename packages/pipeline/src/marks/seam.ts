import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { cheapestPath } from '@cast-to-last/geometry/distance/cheapest-path';
import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { nearOnSurface } from './near-on-surface.js';
import type { Ridge } from './ridges.js';
import { describeRidge } from './ridges.js';

export const SEAM = {
  /** The corridor in which a cast is cut open: half its width, mm, and how far its surface may face sideways. */
  halfWidth: 26,
  facing: 0.45,
  /** Where the way starts and ends: shares of foot length at the toe base, and behind which the crook lies. */
  toeBase: 0.68,
  /** Ahead of the toe base the seam may run on to here, straying at most this far sideways, mm. */
  front: 0.77,
  frontStray: 9,
  crook: 0.42,
  /** Height at which a crest costs half as much to follow as bare surface, mm. */
  pull: 0.05,
  /** The close look strays at most this far from the rough one, mm; the height at which it costs a quarter there, mm. */
  strayFrom: 9,
  closePull: 0.04,
  /** Height that counts as seam, mm, the share of the way that must count, and the mean height along it, mm. */
  line: 0.09,
  covered: 0.22,
  mean: 0.072,
  /** The way ends where a stretch of this many vertices stands off by less than this share of the line. */
  endStretch: 4,
  endShare: 0.8,
  /** Half the width of the seam, mm. */
  half: 3,
} as const;

/**
 * The seam that cutting the cast open along the top of the foot left: the way from toe base to the crook of the ankle
 * that follows the strongest crests, if enough of it is crest.
 */
export function findSeam(surface: InspectionSurface, crests: Crests, landmarks: Landmarks): Ridge | null {
  const way = seamWay(surface, crests, landmarks);
  if (way === null) return null;
  if (way.coverage(SEAM.line) < SEAM.covered || way.mean < SEAM.mean) return null;
  const p = surface.mesh.positions;
  const { reached } = nearOnSurface(surface, way.whole(), SEAM.half);
  const middle = way.path[way.path.length >> 1];
  return { ...describeRidge(surface, crests, reached), centreVertex: middle, centre: [p[3 * middle], p[3 * middle + 1], p[3 * middle + 2]] };
}

/** The likeliest way of a cut along the top of the foot, whether there is one or not. */
export interface SeamWay {
  readonly path: Uint32Array;
  /** The same with what runs on ahead of it between the toes. */
  whole(): Uint32Array;
  /** Mean height along it over the blurred surface, unsigned, mm. */
  readonly mean: number;
  /** Share of it where that height is more than `line`, mm. */
  coverage(line: number): number;
}

export function seamWay(surface: InspectionSurface, crests: Crests, landmarks: Landmarks): SeamWay | null {
  const p = surface.mesh.positions;
  const n = surface.normals;
  const fl = landmarks.footLength;
  const midline = landmarks.instep?.[1] ?? 0;
  const crook = landmarks.crook ?? [SEAM.crook * fl, midline, Infinity];
  const inCorridor = (v: number): boolean =>
    Math.abs(p[3 * v + 1] - midline) < SEAM.halfWidth && n[3 * v + 2] + Math.max(0, n[3 * v]) > SEAM.facing && p[3 * v] < (SEAM.front + 0.02) * fl && p[3 * v] > crook[0] - 12;
  const starts: number[] = [];
  const ends = new Set<number>();
  for (let v = 0; v < surface.areas.length; v++) {
    if (!inCorridor(v)) continue;
    const x = p[3 * v];
    if (Math.abs(x - SEAM.toeBase * fl) < 2) starts.push(v);
    if (Math.abs(x - crook[0] - 3) < 2.5) ends.add(v);
  }
  // First roughly by what is raised or sunk anywhere near; then closely by where the surface itself leaves the blurred one,
  // since a crest casts shadows to both its sides.
  const activity = spread(surface, spread(surface, crests.steady, inCorridor), inCorridor);
  const roughly = (v: number): number => 1 / (SEAM.pull + Math.min(0.4, activity[v]));
  const first = cheapestPath(surface.mesh, surface.neighbours, starts, ends, roughly, inCorridor);
  if (first === null) return null;
  const band = new Uint8Array(surface.areas.length);
  for (const v of nearOnSurface(surface, first, SEAM.strayFrom).reached) band[v] = 1;
  const close = spread(surface, crests.offBlurred, (v) => band[v] === 1);
  const closely = (v: number): number => 1 / (SEAM.closePull + Math.min(0.6, close[v])) ** 2;
  const path = cheapestPath(surface.mesh, surface.neighbours, starts, ends, closely, (v) => band[v] === 1) ?? first;
  const own = trimmed(path, close);
  return {
    path: own,
    whole: () => joined(runOnAhead(surface, own[0], crests.offBlurred, fl, inCorridor), own),
    mean: path.reduce((sum, v) => sum + close[v], 0) / path.length,
    coverage: (line) => path.filter((v) => close[v] > line).length / path.length,
  };
}

/** The way from the front end on towards the toes, as far as something stands off there. */
function runOnAhead(surface: InspectionSurface, end: number, offBlurred: Float64Array, fl: number, inCorridor: (v: number) => boolean): Uint32Array {
  const p = surface.mesh.positions;
  const near = (v: number): boolean => inCorridor(v) && p[3 * v] >= p[3 * end] - 1 && Math.abs(p[3 * v + 1] - p[3 * end + 1]) < SEAM.frontStray;
  const ends = new Set<number>();
  for (let v = 0; v < offBlurred.length; v++) if (Math.abs(p[3 * v] - SEAM.front * fl) < 2 && near(v)) ends.add(v);
  const off = spread(surface, offBlurred, near);
  const path = cheapestPath(surface.mesh, surface.neighbours, [end], ends, (v) => 1 / (SEAM.closePull + Math.min(0.6, off[v])) ** 2, near);
  if (path === null) return new Uint32Array(0);
  let length = 0;
  while (length + SEAM.endStretch <= path.length && standsOff(path, length, off)) length++;
  return path.slice(1, length).reverse();
}

const joined = (a: Uint32Array, b: Uint32Array): Uint32Array => Uint32Array.from([...a, ...b]);

/** The way without the stretches at its ends where nothing stands off. */
function trimmed(path: Uint32Array, close: Float64Array): Uint32Array {
  let start = 0;
  let end = path.length;
  while (start + SEAM.endStretch < end && !standsOff(path, start, close)) start++;
  while (end - SEAM.endStretch > start && !standsOff(path, end - SEAM.endStretch, close)) end--;
  return path.subarray(start, end);
}

/** Whether the stretch of the way from an index on stands off. */
function standsOff(path: Uint32Array, from: number, close: Float64Array): boolean {
  const part = path.subarray(from, from + SEAM.endStretch);
  return part.reduce((sum, v) => sum + close[v], 0) > SEAM.endShare * SEAM.line * part.length;
}

/**
 * Mean unsigned height over a vertex and its neighbours: a seam closed with a step stands up on one side and sinks on the
 * other, and the way runs in the middle of both.
 */
function spread(surface: InspectionSurface, height: Float64Array, wanted: (v: number) => boolean): Float64Array {
  const { offsets, items } = surface.neighbours;
  const mean = new Float64Array(height.length);
  for (let v = 0; v < mean.length; v++) {
    if (!wanted(v)) continue;
    let sum = Math.abs(height[v]);
    for (let i = offsets[v]; i < offsets[v + 1]; i++) sum += Math.abs(height[items[i]]);
    mean[v] = sum / (offsets[v + 1] - offsets[v] + 1);
  }
  return mean;
}
