import type { Reach } from './contour-lines.js';
import type { Mesh } from '../mesh/mesh.js';
import type { View } from './view.js';

/**
 * How far a mesh reaches beyond the outermost samples of its view, for an outline that does not follow the samples' steps:
 * the triangles that have a corner near the edge of what is covered are cut by the sample lines that they cross.
 *
 * @param view of this mesh
 * @param projected as `project` gives it for this view
 */
export function outlineReach(view: View, { triangles: t }: Mesh, projected: Float64Array): Reach {
  const { columns, rows, cell, origin } = view;
  const count = columns * rows;
  const reach: Reach = { right: new Float32Array(count), left: new Float32Array(count), up: new Float32Array(count), down: new Float32Array(count) };
  const near = cornersNearEdge(view, projected);
  const cells = new Float64Array(6);
  for (let f = 0; f < t.length; f += 3) {
    if (near[t[f]] + near[t[f + 1]] + near[t[f + 2]] === 0) continue;
    for (let k = 0; k < 3; k++) {
      cells[2 * k] = (projected[3 * t[f + k]] - origin[0]) / cell;
      cells[2 * k + 1] = (projected[3 * t[f + k] + 1] - origin[1]) / cell;
    }
    for (let c = Math.ceil(Math.min(cells[0], cells[2], cells[4])); c <= Math.max(cells[0], cells[2], cells[4]); c++) {
      interval(cells, 0, c);
      if (found[0] <= found[1]) extend(reach.down, reach.up, found[0], found[1], c, columns, rows);
    }
    for (let r = Math.ceil(Math.min(cells[1], cells[3], cells[5])); r <= Math.max(cells[1], cells[3], cells[5]); r++) {
      interval(cells, 1, r);
      if (found[0] <= found[1]) extend(reach.left, reach.right, found[0], found[1], r * columns, 1, columns);
    }
  }
  return reach;
}

/** One byte a vertex: 1 where one of the nine squares of samples round it is covered in part. */
function cornersNearEdge({ columns, rows, depth, cell, origin }: View, projected: Float64Array): Uint8Array {
  const edge = new Uint8Array(depth.length);
  for (let row = 0; row + 1 < rows; row++) {
    let left = +!Number.isNaN(depth[row * columns]) + +!Number.isNaN(depth[(row + 1) * columns]);
    for (let k = row * columns; k < (row + 1) * columns - 1; k++) {
      const right = +!Number.isNaN(depth[k + 1]) + +!Number.isNaN(depth[k + 1 + columns]);
      const covered = left + right;
      left = right;
      if (covered === 0 || covered === 4) continue;
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
        const from = r * columns + (k % columns);
        edge[from] = 1;
        if (k % columns > 0) edge[from - 1] = 1;
        edge[from + 1] = 1;
      }
    }
  }
  const near = new Uint8Array(projected.length / 3);
  for (let v = 0, i = 0; v < near.length; v++, i += 3) {
    near[v] = edge[Math.floor((projected[i + 1] - origin[1]) / cell) * columns + Math.floor((projected[i] - origin[0]) / cell)];
  }
  return near;
}

const found = new Float64Array(2);

/** Writes what a triangle covers of the line on which coordinate `axis` is `at` to `found`, in cells; low > high where it does not meet it. */
function interval(cells: Float64Array, axis: 0 | 1, at: number): void {
  found[0] = Infinity;
  found[1] = -Infinity;
  for (let k = 0; k < 6; k += 2) {
    const j = k === 4 ? 0 : k + 2;
    const a = cells[k + axis] - at;
    const b = cells[j + axis] - at;
    if ((a < 0 && b < 0) || (a > 0 && b > 0)) continue;
    const share = a === b ? 0 : a / (a - b);
    const value = cells[k + 1 - axis] + share * (cells[j + 1 - axis] - cells[k + 1 - axis]);
    if (value < found[0]) found[0] = value;
    if (value > found[1]) found[1] = value;
  }
}

/** Takes an interval on one line of samples, `first` and every `stride` on, into account at the samples next inside its ends. */
function extend(lower: Float32Array, upper: Float32Array, low: number, high: number, first: number, stride: number, along: number): void {
  const below = Math.floor(high);
  const above = Math.ceil(low);
  const k = first + below * stride;
  const j = first + above * stride;
  if (below >= 0 && below < along && high - below > upper[k]) upper[k] = high - below;
  if (above >= 0 && above < along && above - low > lower[j]) lower[j] = above - low;
}
