import { newNearestPoint } from './bvh.js';
import { denseCholesky, solveCholesky } from '../numerics/dense-cholesky.js';
import { median } from '../numerics/median.js';
import type { SurfaceSamples } from '../remeshing/sample-surface.js';
import type { SurfaceTarget } from './surface-target.js';
import { facingPoint } from './surface-target.js';
import type { Transform } from '../numerics/transform.js';
import { compose, identity, transformPositions } from '../numerics/transform.js';

export const REGISTER = {
  /** Samples whose nearest point is further than this are no counterparts, in the meshes' unit. */
  reach: 15,
  /** Share of the samples used in the first rounds, and how many rounds there are of each at most. */
  passes: [{ every: 8, rounds: 60 }, { every: 1, rounds: 40 }],
  /** Normals of counterparts lie within this cosine (50°). */
  facing: 0.64,
  /** Tukey's constant: residuals beyond so many robust standard deviations do not count. */
  tukey: 4.685,
  /** Least robust standard deviation, in the meshes' unit: below, scans agree as well as they can. */
  leastSd: 0.02,
  /** It is still when no sample moves by more than this share of the samples' spread … */
  still: 1e-6,
  /** … or than this share of the standard error that the residuals leave in a place: what is left are counterparts that change. */
  settled: 0.2,
  /** Fewest counterparts on which six motions can rest. */
  leastPairs: 50,
} as const;

/** Share by which a bound on a distance is widened, so that rounding cannot make it miss the point it was made from. */
const ROUNDING = 1e-9;

export interface Registration {
  /** Moving → fixed, rigid. */
  readonly transform: Transform;
  /** Root mean square of the residuals that counted, weighted as they did, in the meshes' unit. */
  readonly rms: number;
  /** Share of the samples that have a counterpart and count for at least half. */
  readonly usedShare: number;
}

/**
 * Lays samples of one surface on another by rigid motion: iterated nearest points with distances to the tangent plane (Y. Chen
 * & G. Medioni 1992, Image Vis Comput 10:145), each weighed by Tukey's biweight of the round's own spread, so that parts that
 * really differ have no say. The surfaces should lie within some millimetres and degrees. n log n in samples and triangles. Null
 * where the two hardly meet.
 */
export function register(moving: SurfaceSamples, fixed: SurfaceTarget): Registration | null {
  const { reach } = REGISTER;
  let transform = identity();
  let last: Step | null = null;
  for (const { every, rounds } of REGISTER.passes) {
    const some = everyNth(moving, every);
    const within = new Float64Array(some.points.length / 3).fill(reach);
    for (let n = 0; n < rounds; n++) {
      last = step(some, fixed, transform, within);
      if (last === null) return null;
      stretch(within, some.points, transform, last.motion, reach);
      transform = compose(last.motion, transform);
      if (last.moved < Math.max(REGISTER.still * last.spread, (REGISTER.settled * last.rms) / Math.sqrt(last.pairs))) break;
    }
  }
  if (last === null) return null;
  return { transform: rigid(transform), rms: last.rms, usedShare: last.usedShare };
}

function everyNth({ points, normals, area }: SurfaceSamples, nth: number): SurfaceSamples {
  const keep = (_: number, i: number): boolean => Math.floor(i / 3) % nth === 0;
  return nth === 1 ? { points, normals, area } : { points: points.filter(keep), normals: normals.filter(keep), area };
}

interface Step {
  readonly motion: Transform;
  /** How far the motion takes a sample at most, about. */
  readonly moved: number;
  readonly spread: number;
  readonly rms: number;
  readonly pairs: number;
  readonly usedShare: number;
}

/** How far each sample's nearest point may lie after a motion: as far as before and as far as the sample was moved. In place. */
function stretch(within: Float64Array, points: Float64Array, m: Transform, motion: Transform, reach: number): void {
  const before = transformPositions(m, points);
  const after = transformPositions(motion, before);
  for (let n = 0, i = 0; n < within.length; n++, i += 3) {
    const moved = Math.hypot(after[i] - before[i], after[i + 1] - before[i + 1], after[i + 2] - before[i + 2]);
    within[n] = Math.min(reach, (within[n] + moved) * (1 + ROUNDING));
  }
}

/**
 * One round: counterparts, weights, and the small motion that lessens the weighted squares most.
 *
 * @param within how far from each sample its nearest point is sought; how far it lies is written there where one is found
 */
function step({ points, normals }: SurfaceSamples, fixed: SurfaceTarget, m: Transform, within: Float64Array): Step | null {
  const count = points.length / 3;
  const at = new Float64Array(3 * count);
  const towards = new Float64Array(3 * count);
  const off = new Float64Array(count);
  const near = newNearestPoint();
  let pairs = 0;
  for (let i = 0; i < points.length; i += 3) {
    const x = m[0] * points[i] + m[1] * points[i + 1] + m[2] * points[i + 2] + m[3];
    const y = m[4] * points[i] + m[5] * points[i + 1] + m[6] * points[i + 2] + m[7];
    const z = m[8] * points[i] + m[9] * points[i + 1] + m[10] * points[i + 2] + m[11];
    near.distance = Infinity;
    const met = facingPoint(fixed, x, y, z, near, within[i / 3]);
    within[i / 3] = Math.min(within[i / 3], near.distance);
    if (!met) continue;
    const nx = fixed.normals[3 * near.triangle];
    const ny = fixed.normals[3 * near.triangle + 1];
    const nz = fixed.normals[3 * near.triangle + 2];
    const ux = m[0] * normals[i] + m[1] * normals[i + 1] + m[2] * normals[i + 2];
    const uy = m[4] * normals[i] + m[5] * normals[i + 1] + m[6] * normals[i + 2];
    const uz = m[8] * normals[i] + m[9] * normals[i + 1] + m[10] * normals[i + 2];
    if (ux * nx + uy * ny + uz * nz < REGISTER.facing) continue;
    at.set([x, y, z], 3 * pairs);
    towards.set([nx, ny, nz], 3 * pairs);
    off[pairs++] = (x - near.point[0]) * nx + (y - near.point[1]) * ny + (z - near.point[2]) * nz;
  }
  if (pairs < REGISTER.leastPairs) return null;
  const sd = Math.max(REGISTER.leastSd, 1.4826 * median(off.subarray(0, pairs).map(Math.abs)));
  const weights = Float64Array.from({ length: pairs }, (_, v) => tukeyWeight(off[v] / (REGISTER.tukey * sd)));
  return solve(at.subarray(0, 3 * pairs), towards, off, weights, count);
}

const tukeyWeight = (u: number): number => (Math.abs(u) >= 1 ? 0 : (1 - u * u) ** 2);

function solve(at: Float64Array, towards: Float64Array, off: Float64Array, weights: Float64Array, samples: number): Step | null {
  const middle = new Float64Array(3);
  let total = 0;
  for (let v = 0; v < weights.length; v++) {
    total += weights[v];
    for (let k = 0; k < 3; k++) middle[k] += weights[v] * at[3 * v + k];
  }
  for (let k = 0; k < 3; k++) middle[k] /= total;
  let spread = 0;
  for (let i = 0; i < at.length; i++) spread = Math.max(spread, Math.abs(at[i] - middle[i % 3]));
  const matrix = new Float64Array(36);
  const right = new Float64Array(6);
  const row = new Float64Array(6);
  let squares = 0;
  let used = 0;
  for (let v = 0, i = 0; v < weights.length; v++, i += 3) {
    const w = weights[v];
    if (w === 0) continue;
    if (w >= 0.5) used++;
    squares += w * off[v] * off[v];
    // Turns are scaled by the spread, so that the six columns are of one size.
    const x = (at[i] - middle[0]) / spread;
    const y = (at[i + 1] - middle[1]) / spread;
    const z = (at[i + 2] - middle[2]) / spread;
    const nx = towards[i];
    const ny = towards[i + 1];
    const nz = towards[i + 2];
    row.set([y * nz - z * ny, z * nx - x * nz, x * ny - y * nx, nx, ny, nz]);
    for (let r = 0; r < 6; r++) {
      right[r] -= w * row[r] * off[v];
      for (let c = 0; c < 6; c++) matrix[6 * r + c] += w * row[r] * row[c];
    }
  }
  const l = denseCholesky(matrix, 6);
  if (l === null) return null;
  const by = solveCholesky(l, right);
  const turn = [by[0] / spread, by[1] / spread, by[2] / spread];
  return {
    motion: motionAbout(middle, turn, by.subarray(3)),
    moved: Math.hypot(by[3], by[4], by[5]) + Math.hypot(by[0], by[1], by[2]),
    spread,
    rms: Math.sqrt(squares / total),
    pairs: weights.length,
    usedShare: used / samples,
  };
}

/** The motion that turns by the rotation vector `turn` about `middle` and then shifts (Rodrigues). */
function motionAbout(middle: Float64Array, turn: readonly number[], shift: Float64Array): Transform {
  const angle = Math.hypot(turn[0], turn[1], turn[2]);
  const [x, y, z] = angle === 0 ? [0, 0, 0] : turn.map((c) => c / angle);
  const s = Math.sin(angle);
  const c = 1 - Math.cos(angle);
  const out = identity();
  out.set([1 - c * (y * y + z * z), c * x * y - s * z, c * x * z + s * y], 0);
  out.set([c * x * y + s * z, 1 - c * (x * x + z * z), c * y * z - s * x], 4);
  out.set([c * x * z - s * y, c * y * z + s * x, 1 - c * (x * x + y * y)], 8);
  for (let r = 0; r < 3; r++) out[4 * r + 3] = middle[r] + shift[r] - out[4 * r] * middle[0] - out[4 * r + 1] * middle[1] - out[4 * r + 2] * middle[2];
  return out;
}

/** The map with its axes made exactly square again, which products of many rotations lose by rounding. */
function rigid(m: Transform): Transform {
  const out = m.slice();
  const rows = [0, 4, 8];
  for (const [n, r] of rows.entries()) {
    for (const q of rows.slice(0, n)) {
      const dot = out[r] * out[q] + out[r + 1] * out[q + 1] + out[r + 2] * out[q + 2];
      for (let k = 0; k < 3; k++) out[r + k] -= dot * out[q + k];
    }
    const length = Math.hypot(out[r], out[r + 1], out[r + 2]);
    for (let k = 0; k < 3; k++) out[r + k] /= length;
  }
  return out;
}
