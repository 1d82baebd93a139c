import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { splineWeights } from '../ease/smooth-curve.js';

/** Points on a grid of rings and columns, the columns closed; ring by ring. */
export interface ToeNet {
  /** Number of the last ring; they begin with 0. */
  readonly rings: number;
  /** Even. Column j has the angle 2π·j / columns. */
  readonly columns: number;
  /** x, y, z; length 3 × (rings + 1) × columns. */
  readonly points: Float64Array;
  /** What lies beyond the last ring, two rings more: places in the net and their weights, four each. */
  readonly beyond: { readonly places: Uint32Array; readonly weights: Float64Array };
}

/** The net with other points. Its parts always stand in this order: what reads nets is then compiled once. */
export const withPoints = ({ rings, columns, beyond }: ToeNet, points: Float64Array): ToeNet => ({ rings, columns, points, beyond });

/** The point at ring i, from −1 to two beyond the last, and any whole column, into `out`: before the first ring the net goes on straight. */
export function netPoint({ rings, columns, points, beyond }: ToeNet, i: number, j: number, out: Float64Array): void {
  const column = ((j % columns) + columns) % columns;
  if (i >= 0 && i <= rings) {
    const n = 3 * (i * columns + column);
    out[0] = points[n];
    out[1] = points[n + 1];
    out[2] = points[n + 2];
    return;
  }
  if (i < 0) {
    const n = 3 * column;
    const m = 3 * (columns + column);
    for (let k = 0; k < 3; k++) out[k] = 2 * points[n + k] - points[m + k];
    return;
  }
  const at = 4 * ((i - rings - 1) * columns + column);
  out[0] = out[1] = out[2] = 0;
  for (let n = 0; n < 4; n++) {
    const w = beyond.weights[at + n];
    const from = 3 * beyond.places[at + n];
    for (let k = 0; k < 3; k++) out[k] += w * points[from + k];
  }
}

const before = new Float64Array(3);
const after = new Float64Array(3);

/** Each point the mean of itself, weight `own`, and its neighbours, from ring to ring and then from column to column. */
export function averaged(net: ToeNet, own: number): ToeNet {
  const side = (1 - own) / 2;
  return withPoints(net, averagedAcross(averagedAlong(net, own, side), net, own, side));
}

function averagedAlong(net: ToeNet, own: number, side: number): Float64Array {
  const { rings, columns, points } = net;
  const row = 3 * columns;
  const to = new Float64Array(points.length);
  for (let n = row; n < rings * row; n++) to[n] = own * points[n] + side * (points[n - row] + points[n + row]);
  for (const i of rings === 0 ? [0] : [0, rings]) {
    for (let j = 0; j < columns; j++) {
      const n = i * row + 3 * j;
      netPoint(net, i - 1, j, before);
      netPoint(net, i + 1, j, after);
      for (let k = 0; k < 3; k++) to[n + k] = own * points[n + k] + side * (before[k] + after[k]);
    }
  }
  return to;
}

function averagedAcross(points: Float64Array, { rings, columns }: ToeNet, own: number, side: number): Float64Array {
  const row = 3 * columns;
  const to = new Float64Array(points.length);
  for (let from = 0; from <= rings * row; from += row) {
    for (let j = 0; j < row; j++) {
      const a = from + (j < 3 ? j + row - 3 : j - 3);
      const b = from + (j + 3 < row ? j + 3 : j + 3 - row);
      to[from + j] = own * points[from + j] + side * (points[a] + points[b]);
    }
  }
  return to;
}

/** Columns that run together are told apart by their next but one, and so on, to this distance, mm. */
const LEAST_BASE = 2;

const left = new Float64Array(3);
const right = new Float64Array(3);

/** Unit normals, turned to the side of the given directions; the direction itself where the net has none. */
export function normalsOf(net: ToeNet, directions: Float64Array): Float64Array {
  const out = new Float64Array(net.points.length);
  for (let i = 0, n = 0; i <= net.rings; i++) {
    for (let j = 0; j < net.columns; j++, n += 3) {
      netPoint(net, i - 1, j, before);
      netPoint(net, i + 1, j, after);
      const ux = after[0] - before[0];
      const uy = after[1] - before[1];
      const uz = after[2] - before[2];
      let vx = 0;
      let vy = 0;
      let vz = 0;
      for (let apart = 1; apart <= net.columns / 8 && length3(vx, vy, vz) < LEAST_BASE; apart++) {
        netPoint(net, i, j - apart, left);
        netPoint(net, i, j + apart, right);
        vx = right[0] - left[0];
        vy = right[1] - left[1];
        vz = right[2] - left[2];
      }
      let nx = uy * vz - uz * vy;
      let ny = uz * vx - ux * vz;
      let nz = ux * vy - uy * vx;
      const area = length3(nx, ny, nz);
      if (!(area > 0.05 * length3(ux, uy, uz) * length3(vx, vy, vz)) || area < 1e-3) {
        nx = directions[n];
        ny = directions[n + 1];
        nz = directions[n + 2];
      }
      const size = length3(nx, ny, nz);
      const sign = nx * directions[n] + ny * directions[n + 1] + nz * directions[n + 2] < 0 ? -1 : 1;
      out[n] = (sign * nx) / size;
      out[n + 1] = (sign * ny) / size;
      out[n + 2] = (sign * nz) / size;
    }
  }
  return out;
}

const wi = new Float64Array(4);
const wj = new Float64Array(4);
const corner = new Float64Array(3);

/** The bicubic spline over the net at a ring from 0 and a column from 0, whole or between, into `out` at `offset`. */
export function splinePoint(net: ToeNet, at: number, column: number, out: Float64Array, offset = 0): void {
  const u = Math.min(Math.max(at, 0), net.rings);
  const i = Math.min(Math.floor(u), net.rings - 1);
  const j = Math.floor(column);
  splineWeights(u - i, wi);
  splineWeights(column - j, wj);
  let x = 0;
  let y = 0;
  let z = 0;
  const { points, columns } = net;
  const inside = i >= 1 && i + 2 <= net.rings;
  for (let b = 0; b < 4; b++) {
    const c = (((j + b - 1) % columns) + columns) % columns;
    for (let a = 0; a < 4; a++) {
      const w = wi[a] * wj[b];
      if (inside) {
        const n = 3 * ((i + a - 1) * columns + c);
        x += w * points[n];
        y += w * points[n + 1];
        z += w * points[n + 2];
        continue;
      }
      netPoint(net, i + a - 1, c, corner);
      x += w * corner[0];
      y += w * corner[1];
      z += w * corner[2];
    }
  }
  out[offset] = x;
  out[offset + 1] = y;
  out[offset + 2] = z;
}
