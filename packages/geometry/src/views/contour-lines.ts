import { simplifyLine } from '../sections/simplify-line.js';
import type { View } from './view.js';

/** A line on paper: right, up of its points, mm. A closed line's last point leads back to its first. */
export interface PaperLine {
  readonly points: Float64Array;
  readonly closed: boolean;
}

/** How far the surface reaches beyond its outermost samples, in cells, 0 to 1: to the right, left, up and down of each. */
export interface Reach {
  readonly right: Float32Array;
  readonly left: Float32Array;
  readonly up: Float32Array;
  readonly down: Float32Array;
}

/**
 * The edge of the surface as the viewer sees it: closed lines, the surface on the left. Without `reach` the edge is taken
 * half-way between samples and the lines are simplified to a quarter of a cell; with it they lie where the surface ends,
 * simplified to a twentieth.
 */
export function silhouette(view: View, reach: Reach | null = null): PaperLine[] {
  const covered = new Float32Array(view.depth.length);
  for (let i = 0; i < covered.length; i++) covered[i] = Number.isNaN(view.depth[i]) ? 0 : 1;
  return march(view, covered, [0.5], reach)[0];
}

/** Where the surface seen lies at each of the rising `depths`, mm towards the viewer; lines end where the surface ends. */
export const depthContours = (view: View, depths: readonly number[]): PaperLine[][] => march(view, view.depth, depths, null);

/**
 * Sides of a square of samples: 0 bottom, 1 right, 2 top, 3 left. For each pattern of corners above the level (bit 0
 * bottom left, 1 bottom right, 2 top right, 3 top left) the side by which the line comes in and the one by which it
 * leaves, "above" on its left; saddles are cut apart.
 */
const CROSSINGS: readonly (readonly number[])[] = [
  [], [0, 3], [1, 0], [1, 3], [2, 1], [0, 3, 2, 1], [2, 0], [2, 3],
  [3, 2], [0, 2], [1, 0, 3, 2], [1, 2], [3, 1], [0, 1], [3, 0], [],
];

/** Marching squares, the lines of each of the rising levels; squares with a NaN corner hold no line. */
function march(view: View, values: Float32Array, levels: readonly number[], reach: Reach | null): PaperLine[][] {
  const { columns, rows } = view;
  const crossed = levels.map((): number[] => []);
  let above = 0;
  for (let row = 0; row + 1 < rows; row++) {
    for (let k = row * columns; k < row * columns + columns - 1; k++) {
      const low = Math.min(values[k], values[k + 1], values[k + columns], values[k + columns + 1]);
      if (Number.isNaN(low)) continue;
      const high = Math.max(values[k], values[k + 1], values[k + columns], values[k + columns + 1]);
      // The first level above the lowest corner is near that of the square before.
      while (above > 0 && levels[above - 1] > low) above--;
      while (above < levels.length && levels[above] <= low) above++;
      for (let l = above; l < levels.length && levels[l] <= high; l++) crossed[l].push(k);
    }
  }
  const leadsTo = new Int32Array(2 * columns * rows).fill(-1);
  const hasEntry = new Uint8Array(leadsTo.length);
  return levels.map((level, l) => linesOf(view, values, level, reach, crossed[l], leadsTo, hasEntry));
}

/** The lines of one level through the squares that it crosses. `leadsTo` (−1) and `hasEntry` (0) are left as they were. */
function linesOf(
  view: View, values: Float32Array, level: number, reach: Reach | null, squares: readonly number[], leadsTo: Int32Array, hasEntry: Uint8Array,
): PaperLine[] {
  const { columns } = view;
  const entries: number[] = [];
  const exits: number[] = [];
  for (const k of squares) {
    const a = values[k];
    const b = values[k + 1];
    const c = values[k + columns + 1];
    const d = values[k + columns];
    const sides = [2 * k, 2 * (k + 1) + 1, 2 * (k + columns), 2 * k + 1];
    const crossings = CROSSINGS[+(a >= level) | (+(b >= level) << 1) | (+(c >= level) << 2) | (+(d >= level) << 3)];
    for (let n = 0; n < crossings.length; n += 2) {
      leadsTo[sides[crossings[n]]] = sides[crossings[n + 1]];
      hasEntry[sides[crossings[n + 1]]] = 1;
      entries.push(sides[crossings[n]]);
      exits.push(sides[crossings[n + 1]]);
    }
  }
  const lines = collect(view, values, level, reach, leadsTo, hasEntry, entries);
  for (const side of exits) hasEntry[side] = 0;
  return lines;
}

/** Follows the crossings from side to side and uses them up: first the lines that have a beginning, then the closed ones. */
function collect(
  view: View, values: Float32Array, level: number, reach: Reach | null, leadsTo: Int32Array, hasEntry: Uint8Array, entries: readonly number[],
): PaperLine[] {
  const lines: PaperLine[] = [];
  const trace = (start: number): void => {
    const points: number[] = [];
    let side = start;
    do {
      pushCrossing(points, view, values, level, reach, side);
      const next = leadsTo[side];
      leadsTo[side] = -1;
      side = next;
    } while (side >= 0 && side !== start);
    const closed = side === start;
    const simple = simplifyLine(Float64Array.from(points), (reach === null ? 0.25 : 0.05) * view.cell, closed);
    if (simple.length >= (closed ? 6 : 4)) lines.push({ points: simple, closed });
  };
  for (const side of entries) if (leadsTo[side] >= 0 && hasEntry[side] === 0) trace(side);
  for (const side of entries) if (leadsTo[side] >= 0) trace(side);
  return lines.sort((a, b) => b.points.length - a.points.length);
}

function pushCrossing(points: number[], view: View, values: Float32Array, level: number, reach: Reach | null, side: number): void {
  const k = side >> 1;
  const upright = (side & 1) === 1;
  const next = upright ? k + view.columns : k + 1;
  const from = values[k];
  const share = Math.min(1, Math.max(0, reach === null ? (level - from) / (values[next] - from) : reachBetween(reach, k, next, upright, from > level)));
  const column = (k % view.columns) + (upright ? 0 : share);
  const row = Math.floor(k / view.columns) + (upright ? share : 0);
  points.push(view.origin[0] + column * view.cell, view.origin[1] + row * view.cell);
}

/** Where between two samples, 0 to 1 from the first, the surface that covers one of them ends. */
function reachBetween({ right, left, up, down }: Reach, first: number, second: number, upright: boolean, firstIsCovered: boolean): number {
  if (firstIsCovered) return upright ? up[first] : right[first];
  return 1 - (upright ? down[second] : left[second]);
}
