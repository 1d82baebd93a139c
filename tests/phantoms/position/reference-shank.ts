import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { cut } from '../reference/cut.js';

const DEGREE = Math.PI / 180;
/** Distance between the level sections, mm. */
const STEP = 2;
/** How far the sections keep below the height up to which the cast is whole, mm. */
const BELOW_TOP = 3;
const ABOVE_CROOK = 4;
const LEAST_SPAN = 12;
/** The chord across the Achilles tendon lies this far ahead of the rearmost point, mm. */
const CHORD = 20;

/** The closed loops of a level section as lists of segments (x, y pairs: 4 numbers a segment). */
function closedLoops(mesh: Mesh, z: number): number[][] {
  const { segments, edges } = cut(mesh, [0, 0, 1], z);
  const ends = new Map<number, number[]>();
  for (let i = 0; i < edges.length; i++) {
    const list = ends.get(edges[i]);
    if (list) list.push(i >> 1);
    else ends.set(edges[i], [i >> 1]);
  }
  const seen = new Uint8Array(edges.length / 2);
  const loops: number[][] = [];
  for (let s = 0; s < seen.length; s++) {
    if (seen[s]) continue;
    const loop: number[] = [];
    let closed = true;
    const queue = [s];
    seen[s] = 1;
    for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
      loop.push(segments[6 * at], segments[6 * at + 1], segments[6 * at + 3], segments[6 * at + 4]);
      for (const end of [2 * at, 2 * at + 1]) {
        const touching = ends.get(edges[end]) as number[];
        if (touching.length < 2) closed = false;
        for (const other of touching) {
          if (seen[other]) continue;
          seen[other] = 1;
          queue.push(other);
        }
      }
    }
    if (closed) loops.push(loop);
  }
  return loops;
}

/** Lines on which a loop's breadth is taken. */
const LINES = 160;

/** Area of a loop whose segments may come in any order and direction, and x of its centroid: from its breadths on lines y = const. */
function centroid(loop: readonly number[]): { area: number; x: number } {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 1; i < loop.length; i += 2) {
    low = Math.min(low, loop[i]);
    high = Math.max(high, loop[i]);
  }
  const step = (high - low) / LINES;
  let [area, moment] = [0, 0];
  for (let line = 0; line < LINES; line++) {
    const at = crossings(loop, low + (line + 0.5) * step);
    for (let i = 0; i + 1 < at.length; i += 2) {
      area += (at[i + 1] - at[i]) * step;
      moment += ((at[i + 1] ** 2 - at[i] ** 2) / 2) * step;
    }
  }
  return { area, x: moment / area };
}

/** x of the loop on the line y = const, ascending. */
function crossings(loop: readonly number[], y: number): number[] {
  const out: number[] = [];
  for (let i = 0; i < loop.length; i += 4) {
    const [x0, y0, x1, y1] = [loop[i], loop[i + 1], loop[i + 2], loop[i + 3]];
    if (y0 < y !== y1 < y) out.push(x0 + ((y - y0) / (y1 - y0)) * (x1 - x0));
  }
  return out.sort((a, b) => a - b);
}

function largestLoop(mesh: Mesh, z: number): { loop: number[]; x: number } | null {
  let best: { loop: number[]; x: number; area: number } | null = null;
  for (const loop of closedLoops(mesh, z)) {
    const { area, x } = centroid(loop);
    if (best === null || area > best.area) best = { loop, x, area };
  }
  return best;
}

/** Slope of v over z by least squares. */
function slope(points: readonly (readonly [number, number])[]): number {
  const n = points.length;
  const mz = points.reduce((s, q) => s + q[0], 0) / n;
  const mv = points.reduce((s, q) => s + q[1], 0) / n;
  const zv = points.reduce((s, q) => s + (q[0] - mz) * (q[1] - mv), 0);
  return zv / points.reduce((s, q) => s + (q[0] - mz) ** 2, 0);
}

/**
 * Lean of the shank in the foot frame, top to the toes positive, degrees: the line by least squares through the centroids of
 * the largest closed level section from the crook + 4 mm to `top` − 3 mm. Null without a crook or with less than 12 mm of it.
 */
export function shankLean(mesh: Mesh, { crook }: Landmarks, top: number): number | null {
  if (crook === null) return null;
  const points: [number, number][] = [];
  for (let z = crook[2] + ABOVE_CROOK; z <= top - BELOW_TOP; z += STEP) {
    const section = largestLoop(mesh, z);
    if (section) points.push([z, section.x]);
  }
  if (points.length < 2 || points[points.length - 1][0] - points[0][0] < LEAST_SPAN - STEP) return null;
  return Math.atan(slope(points)) / DEGREE;
}

/**
 * Lean of a right foot's Achilles line seen from behind, top towards the inner side positive, degrees: the middles of the
 * chords 20 mm ahead of each level section's rearmost point, from 0.22 FL to `top` − 3 mm.
 */
export function achillesLean(mesh: Mesh, { footLength }: Landmarks, top: number): number | null {
  const points: [number, number][] = [];
  for (let z = 0.22 * footLength; z <= top - BELOW_TOP; z += STEP) {
    const section = largestLoop(mesh, z);
    if (!section) continue;
    let rear = Infinity;
    for (let i = 0; i < section.loop.length; i += 2) rear = Math.min(rear, section.loop[i]);
    // Turned round, so that the line x = const is one of y = const.
    const at = crossings(section.loop.map((_c, i) => section.loop[i ^ 1]), rear + CHORD);
    if (at.length >= 2) points.push([z, (at[0] + at[at.length - 1]) / 2]);
  }
  return points.length < 3 ? null : Math.atan(slope(points)) / DEGREE;
}
