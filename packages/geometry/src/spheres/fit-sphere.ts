import { denseCholesky, invertCholesky, solveCholesky } from '../numerics/dense-cholesky.js';
import { median } from '../numerics/median.js';

/** The sphere of least squares, centre and radius free. */
export interface SphereFit {
  readonly centre: Float64Array;
  readonly radius: number;
  /** Standard deviation of the signed distances, in the points' unit (4 parameters taken off). */
  readonly sd: number;
  /** (JᵀJ)⁻¹ of centre x, y, z and radius, 4 × 4 row-major: times sd² it is their covariance where errors are independent. */
  readonly cofactor: Float64Array;
}

export const FIT_SPHERE = {
  /** More rounds than Gauss and Newton's method needs on any part of a sphere that fixes it. */
  rounds: 60,
  /** The fit stands when a step is shorter than this share of the radius. */
  still: 1e-13,
  /** Points further off than this many robust standard deviations (1.4826 × median) are left out. */
  outlier: 4.5,
  /** Rounds of leaving out at most; the first ones rest on this share of the points, the nearest, so that what lies off to one side has no say. */
  trims: 60,
  firstTrims: 12,
  nearest: 0.6,
  /** Least robust standard deviation, as a share of the radius, so that rounding leaves nothing out. */
  leastSd: 1e-9,
} as const;

/** Signed distances of points from a sphere, outside positive. */
export function sphereDistances(points: Float64Array, { centre, radius }: Pick<SphereFit, 'centre' | 'radius'>): Float64Array {
  const out = new Float64Array(points.length / 3);
  for (let i = 0, v = 0; v < out.length; i += 3, v++) {
    const x = points[i] - centre[0];
    const y = points[i + 1] - centre[1];
    const z = points[i + 2] - centre[2];
    out[v] = Math.sqrt(x * x + y * y + z * z) - radius;
  }
  return out;
}

/**
 * The sphere from which the squared distances of the points sum to the least (Gauss and Newton's method from the algebraic
 * fit). Null where the points do not fix a sphere: fewer than 5, or on a plane.
 *
 * @param points x, y, z of each point
 */
export function fitSphere(points: Float64Array): SphereFit | null {
  const count = points.length / 3;
  if (count < 5) return null;
  const mean = new Float64Array(3);
  for (let i = 0; i < points.length; i++) mean[i % 3] += points[i] / count;
  const about = points.map((c, i) => c - mean[i % 3]);
  const start = algebraicFit(about);
  if (start === null) return null;
  let fit = start;
  let normal = normalEquations(about, fit);
  for (let round = 0; round < FIT_SPHERE.rounds; round++) {
    const l = denseCholesky(normal.matrix, 4);
    if (l === null) return null;
    const step = solveCholesky(l, normal.right);
    let next = moved(fit, step, 1);
    let after = normalEquations(about, next);
    for (let share = 0.5; after.sum > normal.sum && share > 1e-3; share /= 2) {
      next = moved(fit, step, share);
      after = normalEquations(about, next);
    }
    const length = Math.hypot(...step);
    if (after.sum > normal.sum) break;
    fit = next;
    normal = after;
    if (length < FIT_SPHERE.still * fit.radius) break;
  }
  const l = denseCholesky(normal.matrix, 4);
  if (l === null || !Number.isFinite(fit.radius)) return null;
  return {
    centre: fit.centre.map((c, k) => c + mean[k]),
    radius: fit.radius,
    sd: Math.sqrt(normal.sum / (count - 4)),
    cofactor: invertCholesky(l, 4),
  };
}

/** A sphere fitted to those points alone that lie on it. */
export interface TrimmedSphereFit extends SphereFit {
  /** One byte a point: 1 where the fit rests on it. */
  readonly used: Uint8Array;
  /** Robust standard deviation of all points' distances: 1.4826 × their median size. */
  readonly robustSd: number;
}

/**
 * `fitSphere` with outliers left out: first only the nearest points count, as in least trimmed squares (P. Rousseeuw & K. Van
 * Driessen 2006, Data Min Knowl Disc 12:29), then all but those further off than 4.5 robust standard deviations, in rounds
 * until none comes or goes. Null where what is left does not fix a sphere.
 *
 * @param start a sphere near the points
 */
export function fitSphereTrimmed(points: Float64Array, start: Pick<SphereFit, 'centre' | 'radius'>): TrimmedSphereFit | null {
  const count = points.length / 3;
  let about: Pick<SphereFit, 'centre' | 'radius'> = start;
  let used = new Uint8Array(count);
  for (let round = 0; ; round++) {
    const distances = sphereDistances(points, about).map(Math.abs);
    const sorted = distances.slice().sort();
    const robustSd = Math.max(1.4826 * median(distances), FIT_SPHERE.leastSd * about.radius);
    const first = round < FIT_SPHERE.firstTrims;
    const reach = first ? sorted[Math.floor(FIT_SPHERE.nearest * (count - 1))] : FIT_SPHERE.outlier * robustSd;
    const now = Uint8Array.from(distances, (d) => (d <= reach ? 1 : 0));
    const fit = fitSphere(points.filter((_, i) => now[(i / 3) | 0] === 1));
    if (fit === null) return null;
    if (!first && (round >= FIT_SPHERE.trims || now.every((u, v) => u === used[v]))) return { ...fit, used: now, robustSd };
    used = now;
    about = fit;
  }
}

interface Ball {
  readonly centre: Float64Array;
  readonly radius: number;
}

const moved = ({ centre, radius }: Ball, step: Float64Array, share: number): Ball => ({
  centre: centre.map((c, k) => c + share * step[k]),
  radius: radius + share * step[3],
});

/** |q|² = 2 c·q + k, linear in c and k; a sphere near the points, pulled inward where they are noisy. */
function algebraicFit(q: Float64Array): Ball | null {
  const matrix = new Float64Array(16);
  const right = new Float64Array(4);
  const row = [0, 0, 0, 1];
  for (let i = 0; i < q.length; i += 3) {
    for (let k = 0; k < 3; k++) row[k] = 2 * q[i + k];
    const square = q[i] * q[i] + q[i + 1] * q[i + 1] + q[i + 2] * q[i + 2];
    for (let r = 0; r < 4; r++) {
      right[r] += row[r] * square;
      for (let c = 0; c < 4; c++) matrix[4 * r + c] += row[r] * row[c];
    }
  }
  const l = denseCholesky(matrix, 4);
  if (l === null) return null;
  const [x, y, z, k] = solveCholesky(l, right);
  const radius = Math.sqrt(k + x * x + y * y + z * z);
  return radius > 0 && Number.isFinite(radius) ? { centre: Float64Array.of(x, y, z), radius } : null;
}

/** JᵀJ, −Jᵀd and the sum of the squared distances d at this sphere. */
function normalEquations(q: Float64Array, { centre, radius }: Ball): { matrix: Float64Array; right: Float64Array; sum: number } {
  const matrix = new Float64Array(16);
  const right = new Float64Array(4);
  let sum = 0;
  const row = [0, 0, 0, 1];
  for (let i = 0; i < q.length; i += 3) {
    const x = q[i] - centre[0];
    const y = q[i + 1] - centre[1];
    const z = q[i + 2] - centre[2];
    const length = Math.sqrt(x * x + y * y + z * z);
    if (length === 0) continue;
    row[0] = x / length;
    row[1] = y / length;
    row[2] = z / length;
    const d = length - radius;
    sum += d * d;
    for (let r = 0; r < 4; r++) {
      right[r] += row[r] * d;
      for (let c = 0; c < 4; c++) matrix[4 * r + c] += row[r] * row[c];
    }
  }
  return { matrix, right, sum };
}
