import type { Reach } from './contour-lines.js';
import type { Mesh } from './mesh.js';
import { project } from './view.js';
import type { View } from './view.js';

/**
 * How far a mesh reaches beyond the outermost samples of its view, for an outline that does not follow the samples' steps:
 * every triangle near the edge of what is covered is cut by the sample lines that it crosses.
 *
 * @param view of this mesh
 */
export function outlineReach(view: View, mesh: Mesh): Reach {
  const p = project(view.axes, mesh.positions);
  const { columns, rows, cell, origin } = view;
  const count = columns * rows;
  const reach: Reach = { right: new Float32Array(count), left: new Float32Array(count), up: new Float32Array(count), down: new Float32Array(count) };
  const edge = nearEdge(view);
  const { triangles: t } = mesh;
  const cells = new Float64Array(6);
  for (let f = 0; f < t.length; f += 3) {
    let [lowC, highC, lowR, highR] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let k = 0; k < 3; k++) {
      const c = (p[3 * t[f + k]] - origin[0]) / cell;
      const r = (p[3 * t[f + k] + 1] - origin[1]) / cell;
      cells[2 * k] = c;
      cells[2 * k + 1] = r;
      if (c < lowC) lowC = c;
      if (c > highC) highC = c;
      if (r < lowR) lowR = r;
      if (r > highR) highR = r;
    }
    if (!touches(edge, columns, Math.floor(lowC), Math.floor(highC), Math.floor(lowR), Math.floor(highR))) continue;
    for (let c = Math.ceil(lowC); c <= highC; c++) {
      const [low, high] = interval(cells, 0, c);
      if (low <= high) extend(reach.down, reach.up, low, high, c, columns, rows);
    }
    for (let r = Math.ceil(lowR); r <= highR; r++) {
      const [low, high] = interval(cells, 1, r);
      if (low <= high) extend(reach.left, reach.right, low, high, r * columns, 1, columns);
    }
  }
  return reach;
}

/** One byte a square of samples, by its first: 1 where some of its corners are covered and some are not. */
function nearEdge({ columns, rows, depth }: View): Uint8Array {
  const edge = new Uint8Array(depth.length);
  for (let row = 0; row + 1 < rows; row++) {
    for (let k = row * columns; k < (row + 1) * columns - 1; k++) {
      const covered = +!Number.isNaN(depth[k]) + +!Number.isNaN(depth[k + 1]) + +!Number.isNaN(depth[k + columns]) + +!Number.isNaN(depth[k + columns + 1]);
      if (covered > 0 && covered < 4) edge[k] = 1;
    }
  }
  return edge;
}

function touches(edge: Uint8Array, columns: number, fromColumn: number, toColumn: number, fromRow: number, toRow: number): boolean {
  for (let row = fromRow; row <= toRow; row++) for (let k = row * columns + fromColumn; k <= row * columns + toColumn; k++) if (edge[k] === 1) return true;
  return false;
}

const found: [number, number] = [0, 0];

/** What a triangle covers of the line on which coordinate `axis` is `at`, in cells; low > high where it does not meet it. */
function interval(cells: Float64Array, axis: 0 | 1, at: number): readonly [number, number] {
  found[0] = Infinity;
  found[1] = -Infinity;
  for (let k = 0; k < 6; k += 2) {
    const j = k === 4 ? 0 : k + 2;
    const [a, b] = [cells[k + axis] - at, cells[j + axis] - at];
    if ((a < 0 && b < 0) || (a > 0 && b > 0)) continue;
    const share = a === b ? 0 : a / (a - b);
    const value = cells[k + 1 - axis] + share * (cells[j + 1 - axis] - cells[k + 1 - axis]);
    if (value < found[0]) found[0] = value;
    if (value > found[1]) found[1] = value;
  }
  return found;
}

/** Takes an interval on one line of samples, `first` and every `stride` on, into account at the samples next inside its ends. */
function extend(lower: Float32Array, upper: Float32Array, low: number, high: number, first: number, stride: number, along: number): void {
  const below = Math.floor(high);
  const above = Math.ceil(low);
  const [k, j] = [first + below * stride, first + above * stride];
  if (below >= 0 && below < along && high - below > upper[k]) upper[k] = high - below;
  if (above >= 0 && above < along && above - low > lower[j]) lower[j] = above - low;
}
