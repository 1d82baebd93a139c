import { solveBanded } from '../numerics/banded-cholesky.js';
import { addEnergy } from './spline-energy.js';
import type { SplineStiffness } from './spline-energy.js';

/** A bicubic surface over a square of flat coordinates. */
export interface SplinePatch {
  /** Half the square's side. */
  readonly half: number;
  /** Knot spacing. */
  readonly spacing: number;
  /** Control points a side. */
  readonly side: number;
  /** x, y and z of the control points, row (u) by row. */
  readonly control: readonly [Float64Array, Float64Array, Float64Array];
}

export interface SplineFitOptions extends SplineStiffness {
  /** Half the side of the square that is fitted, in the positions' unit. */
  readonly half: number;
  /** Knot spacing aimed at. */
  readonly spacing: number;
}

/** Room for the band matrix, used again: a fit takes a tenth of a megabyte, and there are many hundreds. */
let bandRoom = new Float64Array(0);

/**
 * Fits a bicubic surface to points with flat coordinates: least squares where there are points, and where there are none
 * the surface that carries on from them with the least bending (thin plate: ∫ X_uu² + 2 X_uv² + X_vv²) and the least
 * change of bending (third derivatives).
 *
 * @param flat u, v of each point
 * @param points x, y, z of each point
 * @param weights area that each point stands for; 0 leaves it out
 */
export function fitSplinePatch(flat: Float64Array, points: Float64Array, weights: Float64Array, options: SplineFitOptions): SplinePatch {
  const cells = Math.max(4, Math.ceil((2 * options.half) / options.spacing - 1e-9));
  const spacing = (2 * options.half) / cells;
  const side = cells + 3;
  const width = 3 * side + 3;
  const stride = width + 1;
  const size = side * side * stride;
  if (bandRoom.length < size) bandRoom = new Float64Array(size);
  const band = bandRoom.subarray(0, size).fill(0);
  const control: [Float64Array, Float64Array, Float64Array] = [0, 1, 2].map(() => new Float64Array(side * side)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  addEnergy(band, stride, side, spacing, options);
  const bu = new Float64Array(4);
  const bv = new Float64Array(4);
  const [cx, cy, cz] = control;
  for (let i = 0; i < weights.length; i++) {
    const w = weights[i];
    const s = (flat[2 * i] + options.half) / spacing;
    const t = (flat[2 * i + 1] + options.half) / spacing;
    if (!(w > 0) || s < 0 || t < 0 || s > cells || t > cells) continue;
    const cu = Math.min(cells - 1, Math.floor(s));
    const cv = Math.min(cells - 1, Math.floor(t));
    basis(s - cu, bu);
    basis(t - cv, bv);
    const x = points[3 * i];
    const y = points[3 * i + 1];
    const z = points[3 * i + 2];
    const b0 = bv[0];
    const b1 = bv[1];
    const b2 = bv[2];
    const b3 = bv[3];
    for (let a = 0; a < 4; a++) {
      for (let b = 0; b < 4; b++) {
        const weight = w * (bu[a] * bv[b]);
        const row = (cu + a) * side + cv + b;
        cx[row] += weight * x;
        cy[row] += weight * y;
        cz[row] += weight * z;
        // Against the control points of the rows before, four at a time, and of its own row up to itself.
        const diagonal = row * stride;
        for (let c = 0, at = diagonal + a * side + b; c < a; c++, at -= side) {
          const u = bu[c];
          band[at] += weight * (u * b0);
          band[at - 1] += weight * (u * b1);
          band[at - 2] += weight * (u * b2);
          band[at - 3] += weight * (u * b3);
        }
        for (let d = 0; d <= b; d++) band[diagonal + b - d] += weight * (bu[a] * bv[d]);
      }
    }
  }
  solveBanded(band, width, control);
  return { half: options.half, spacing, side, control };
}

function basis(t: number, out: Float64Array): void {
  const s = 1 - t;
  out[0] = (s * s * s) / 6;
  out[1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[2] = (3 * s * s * s - 6 * s * s + 4) / 6;
  out[3] = (t * t * t) / 6;
}

function slope(t: number, out: Float64Array): void {
  const s = 1 - t;
  out[0] = (-s * s) / 2;
  out[1] = (3 * t * t - 4 * t) / 2;
  out[2] = (-3 * s * s + 4 * s) / 2;
  out[3] = (t * t) / 2;
}

/** Writes x, y, z of the patch at (u, v) to `out`. */
export function pointOnPatch(patch: SplinePatch, u: number, v: number, out: Float64Array): void {
  const corner = locate(patch, u, v);
  for (let c = 0; c < 3; c++) {
    const k = patch.control[c];
    let x = 0;
    for (let a = 0; a < 4; a++) {
      const row = corner + a * patch.side;
      x += bu[a] * (bv[0] * k[row] + bv[1] * k[row + 1] + bv[2] * k[row + 2] + bv[3] * k[row + 3]);
    }
    out[c] = x;
  }
}

/** The foot of a point on a patch. */
export interface PatchFoot {
  u: number;
  v: number;
  x: number;
  y: number;
  z: number;
  /** Unit normal of the patch there. */
  nx: number;
  ny: number;
  nz: number;
  /** Signed distance of the point over the patch along that normal. */
  over: number;
}

export const newPatchFoot = (): PatchFoot => ({ u: 0, v: 0, x: 0, y: 0, z: 0, nx: 0, ny: 0, nz: 1, over: 0 });

const bu = new Float64Array(4);
const bv = new Float64Array(4);
const su = new Float64Array(4);
const sv = new Float64Array(4);
const at = new Float64Array(9);

/** The splines and their slopes at (u, v), into `bu`, `bv`, `su`, `sv`; the first of the control points that they weigh. */
function locate(patch: SplinePatch, u: number, v: number): number {
  const cells = patch.side - 3;
  const s = Math.min(cells, Math.max(0, (u + patch.half) / patch.spacing));
  const t = Math.min(cells, Math.max(0, (v + patch.half) / patch.spacing));
  const cu = Math.min(cells - 1, Math.floor(s));
  const cv = Math.min(cells - 1, Math.floor(t));
  basis(s - cu, bu);
  basis(t - cv, bv);
  slope(s - cu, su);
  slope(t - cv, sv);
  return cu * patch.side + cv;
}

/** Position and first derivatives at (u, v), into `at`: X, X_u, X_v. */
function evaluate(patch: SplinePatch, u: number, v: number): void {
  const corner = locate(patch, u, v);
  for (let c = 0; c < 3; c++) {
    const k = patch.control[c];
    let x = 0;
    let xu = 0;
    let xv = 0;
    for (let a = 0; a < 4; a++) {
      const row = corner + a * patch.side;
      const across = bv[0] * k[row] + bv[1] * k[row + 1] + bv[2] * k[row + 2] + bv[3] * k[row + 3];
      const acrossSlope = sv[0] * k[row] + sv[1] * k[row + 1] + sv[2] * k[row + 2] + sv[3] * k[row + 3];
      x += bu[a] * across;
      xu += su[a] * across;
      xv += bu[a] * acrossSlope;
    }
    at[c] = x;
    at[3 + c] = xu / patch.spacing;
    at[6 + c] = xv / patch.spacing;
  }
}

/**
 * The foot of the perpendicular from a point to the patch, by Gauss–Newton from foot.u, foot.v.
 *
 * @param foot in: where to start; out: the foot
 */
export function projectToPatch(patch: SplinePatch, x: number, y: number, z: number, foot: PatchFoot, rounds = 3): void {
  let { u, v } = foot;
  for (let round = 0; round <= rounds; round++) {
    evaluate(patch, u, v);
    if (round === rounds) break;
    const rx = x - at[0];
    const ry = y - at[1];
    const rz = z - at[2];
    const uu = at[3] * at[3] + at[4] * at[4] + at[5] * at[5];
    const uv = at[3] * at[6] + at[4] * at[7] + at[5] * at[8];
    const vv = at[6] * at[6] + at[7] * at[7] + at[8] * at[8];
    const ru = rx * at[3] + ry * at[4] + rz * at[5];
    const rv = rx * at[6] + ry * at[7] + rz * at[8];
    const det = uu * vv - uv * uv;
    if (!(det > 1e-9 * uu * vv)) break;
    const du = (vv * ru - uv * rv) / det;
    const dv = (uu * rv - uv * ru) / det;
    const most = patch.spacing;
    u += Math.max(-most, Math.min(most, du));
    v += Math.max(-most, Math.min(most, dv));
  }
  foot.u = u;
  foot.v = v;
  foot.x = at[0];
  foot.y = at[1];
  foot.z = at[2];
  normalOf(foot);
  foot.over = (x - at[0]) * foot.nx + (y - at[1]) * foot.ny + (z - at[2]) * foot.nz;
}

/** The unit normal of the patch at (u, v), written to `foot`'s nx, ny, nz. */
export function normalOnPatch(patch: SplinePatch, u: number, v: number, foot: PatchFoot): void {
  evaluate(patch, u, v);
  normalOf(foot);
}

/** Normal to the derivatives in `at`. */
function normalOf(foot: PatchFoot): void {
  const nx = at[4] * at[8] - at[5] * at[7];
  const ny = at[5] * at[6] - at[3] * at[8];
  const nz = at[3] * at[7] - at[4] * at[6];
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1;
  foot.nx = nx / length;
  foot.ny = ny / length;
  foot.nz = nz / length;
}
