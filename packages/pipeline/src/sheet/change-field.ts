import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { towardsViewer } from '@cast-to-last/geometry/views/view';
import type { View } from '@cast-to-last/geometry/views/view';

/** How far from a place the surface that it came from is looked for, mm: more than the longest toe allowance. */
const REACH = 34;
/** Nearer than this the distance is taken to the surface's plane, further away to its nearest sample, mm. */
const PLANE_WITHIN = 4;
/**
 * Where a surface is seen more steeply than this, as the cosine, too few samples lie on it to tell a small change; other
 * views show it better. What was added beyond PLANE_WITHIN is told from any side.
 */
const STEEP = 0.35;
/** No step takes more off a foot, mm: what lies deeper is a hole in the top. */
const DEEPEST = 16;
/** A place whose depth differs less than this is where it was, mm. */
const SAME = 0.05;

/** Samples of a surface: points of the view's paper, and the unit normals there. */
interface Samples {
  readonly view: View;
  readonly normals: Float32Array;
}

/**
 * How far the surface that `last` shows lies outside (positive) or inside of that of `cast`, mm, at each sample of `last`:
 * along the cast's normal where they are near, the distance to its nearest sample elsewhere. NaN beside the surface and
 * above `below`. Both views must look the same way and have the same cell.
 */
export function changeField(last: View, cast: View, below: number): Float32Array {
  const field = new Float32Array(last.depth.length).fill(NaN);
  const samples: Samples = { view: cast, normals: normalsOf(cast) };
  const { columns, rows, cell, origin, depth } = last;
  const facing = normalsOf(last);
  const towards = towardsViewer(last.axes);
  for (let row = 0; row < rows; row++) {
    const v = origin[1] + row * cell;
    for (let column = 0; column < columns; column++) {
      const k = row * columns + column;
      const d = depth[k];
      if (Number.isNaN(d)) continue;
      const u = origin[0] + column * cell;
      if (last.axes.right[2] * u + last.axes.up[2] * v + towards[2] * d > below) continue;
      field[k] = distanceTo(samples, u, v, d, facing[3 * k + 2] < STEEP);
    }
  }
  return field;
}

/** Signed distance from a point to the sampled surface; NaN where it is further than REACH, or cannot be told. */
function distanceTo({ view, normals }: Samples, u: number, v: number, d: number, steep: boolean): number {
  const { columns, rows, cell, origin, depth } = view;
  const c0 = Math.round((u - origin[0]) / cell);
  const r0 = Math.round((v - origin[1]) / cell);
  let best = -1;
  let nearest = REACH * REACH;
  const reach = Math.ceil(REACH / cell);
  // Rings outward from the place below; a ring further away than the nearest found so far cannot hold a nearer one.
  for (let ring = 0; ring <= reach && ((ring - 1) * cell) ** 2 <= nearest; ring++) {
    for (let r = r0 - ring; r <= r0 + ring; r++) {
      if (r < 0 || r >= rows) continue;
      const step = r === r0 - ring || r === r0 + ring || ring === 0 ? 1 : 2 * ring;
      for (let c = c0 - ring; c <= c0 + ring; c += step) {
        if (c < 0 || c >= columns) continue;
        const k = r * columns + c;
        const there = depth[k];
        if (Number.isNaN(there)) continue;
        const far = (origin[0] + c * cell - u) ** 2 + (origin[1] + r * cell - v) ** 2 + (there - d) ** 2;
        if (far < nearest) {
          nearest = far;
          best = k;
        }
      }
    }
  }
  if (best < 0) return NaN;
  const du = u - (origin[0] + (best % columns) * cell);
  const dv = v - (origin[1] + Math.floor(best / columns) * cell);
  const plane = du * normals[3 * best] + dv * normals[3 * best + 1] + (d - depth[best]) * normals[3 * best + 2];
  const distance = Math.sqrt(nearest);
  const far = distance >= PLANE_WITHIN;
  if ((steep || normals[3 * best + 2] < STEEP) && !(far && plane > 0)) return NaN;
  const signed = far ? Math.sign(plane) * distance : plane;
  if (signed < -DEEPEST) return NaN;
  return Math.abs(signed) < SAME ? 0 : signed;
}

/** Unit normals of the sampled surface, towards the viewer, from the differences to the samples beside each. */
function normalsOf({ columns, rows, cell, depth }: View): Float32Array {
  const normals = new Float32Array(3 * depth.length);
  const slope = (k: number, by: number): number => {
    const before = depth[k - by];
    const after = depth[k + by];
    if (Number.isNaN(before)) return Number.isNaN(after) ? 0 : (after - depth[k]) / cell;
    return Number.isNaN(after) ? (depth[k] - before) / cell : (after - before) / (2 * cell);
  };
  for (let row = 1; row + 1 < rows; row++) {
    for (let k = row * columns + 1; k < (row + 1) * columns - 1; k++) {
      if (Number.isNaN(depth[k])) continue;
      const a = slope(k, 1);
      const b = slope(k, columns);
      const length = length3(a, b, 1);
      normals[3 * k] = -a / length;
      normals[3 * k + 1] = -b / length;
      normals[3 * k + 2] = 1 / length;
    }
  }
  return normals;
}
