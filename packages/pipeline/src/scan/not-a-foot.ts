import type { SurfaceSamples } from '@cast-to-last/geometry/remeshing/sample-surface';
import { symmetricEigen } from '@cast-to-last/geometry/numerics/symmetric-eigen';
import { CastError } from '../errors.js';

/**
 * Refuses shapes that are plainly no foot. Every limit is far from any foot: on four real feet (two with 180 mm of leg,
 * one flat-soled and flat-topped) thickness was 0.29 or more, sphere misfit 0.27 or more, box share 0.56 or less.
 */
export const NOT_A_FOOT = {
  /** Thickness over length below which a surface is flat. */
  flatThickness: 0.06,
  /** RMS distance from the best sphere over its radius below which a surface is a ball or part of one. */
  sphereMisfit: 0.06,
  /** Radius over length up to which that is said: a great sphere fits any small patch far from stray pieces. */
  sphereRadius: 0.75,
  /** A point is on the box where it lies nearer to a side than this share of the length. */
  boxNearness: 0.025,
  /** Share of the surface on the box from which on the shape is one. */
  boxShare: 0.85,
  /** Half-angle of the cone that gathers normals of one side, as a cosine (12°). */
  sideCosine: 0.978,
  /** Grid cells along the longest extent, over which normals are averaged against scan noise. */
  normalCells: 24,
} as const;

const REMEDY = 'Check that the right file was chosen, and scan the cast again if so.';

/**
 * @throws CastError `flat-surface`, `sphere-not-foot`, `box-not-foot`
 */
export function refuseWhatIsNoFoot(samples: SurfaceSamples): void {
  const extents = extentsAlong(samples.points, 0.01);
  if (extents[2] / extents[0] < NOT_A_FOOT.flatThickness) {
    throw new CastError('flat-surface', 'The scan is a flat surface, such as a table, and not a foot.', REMEDY);
  }
  if (isBall(samples.points, Math.max(...extents))) {
    throw new CastError('sphere-not-foot', 'The scan is a ball, perhaps the one that checks the scanner, and not a foot.', REMEDY);
  }
  if (boxShare(samples) > NOT_A_FOOT.boxShare) {
    throw new CastError('box-not-foot', 'The scan is a box, and not a foot.', REMEDY);
  }
}

function centroid(points: Float64Array): number[] {
  const sum = [0, 0, 0];
  for (let i = 0; i < points.length; i++) sum[i % 3] += points[i];
  return sum.map((s) => (3 * s) / points.length);
}

/** Where the points lie along `axis`, in rising order. */
export function sortedAlong(points: Float64Array, axis: ArrayLike<number>): Float64Array {
  const along = new Float64Array(points.length / 3);
  for (let n = 0; n < along.length; n++) along[n] = points[3 * n] * axis[0] + points[3 * n + 1] * axis[1] + points[3 * n + 2] * axis[2];
  return along.sort();
}

/** The stretch along `axis` that holds all but `tail` of the points at each end. */
export function spanAlong(points: Float64Array, axis: ArrayLike<number>, tail: number): { from: number; to: number } {
  const along = sortedAlong(points, axis);
  return { from: along[Math.floor(tail * (along.length - 1))], to: along[Math.ceil((1 - tail) * (along.length - 1))] };
}

/** The directions of greatest, middle and least spread. */
export function principalAxes(points: Float64Array): readonly Float64Array[] {
  const c = centroid(points);
  const m = new Float64Array(9);
  for (let i = 0; i < points.length; i += 3) {
    for (let r = 0; r < 3; r++) for (let s = 0; s < 3; s++) m[3 * r + s] += (points[i + r] - c[r]) * (points[i + s] - c[s]);
  }
  return symmetricEigen(m).vectors;
}

/** The greatest extent along the principal axes, all but `tail` of the points at each end. */
export function longestExtent(points: Float64Array, tail: number): number {
  return Math.max(...extentsAlong(points, tail));
}

/** The extents along the directions of greatest, middle and least spread, all but `tail` of the points at each end. */
function extentsAlong(points: Float64Array, tail: number): number[] {
  return principalAxes(points).map((axis) => {
    const { from, to } = spanAlong(points, axis, tail);
    return to - from;
  });
}

/** Extent along the direction of least spread over that of greatest, 1 % of the points at each end left out. */
export function thickness(points: Float64Array): number {
  const [longest, , thinnest] = extentsAlong(points, 0.01);
  return thinnest / longest;
}

function isBall(points: Float64Array, longest: number): boolean {
  const { radius, misfit } = fitSphere(points);
  return misfit < NOT_A_FOOT.sphereMisfit && radius < NOT_A_FOOT.sphereRadius * longest;
}

/**
 * The least-squares sphere of the points (linear fit of |p|² = 2c·p + k): its radius, and the RMS distance of the points
 * from it over the radius.
 */
function fitSphere(points: Float64Array): { radius: number; misfit: number } {
  const o = centroid(points);
  const n = points.length / 3;
  const scale = Math.sqrt(points.reduce((sum, p, i) => sum + (p - o[i % 3]) ** 2, 0) / n);
  const rows = Array.from({ length: 4 }, () => new Float64Array(5));
  for (let i = 0; i < points.length; i += 3) {
    const x = (points[i] - o[0]) / scale;
    const y = (points[i + 1] - o[1]) / scale;
    const z = (points[i + 2] - o[2]) / scale;
    const row = [x, y, z, 1, x * x + y * y + z * z];
    for (let r = 0; r < 4; r++) for (let s = 0; s < 5; s++) rows[r][s] += row[r] * row[s];
  }
  const [a, b, c, k] = solve(rows);
  const radius = Math.sqrt(Math.max(k + (a * a + b * b + c * c) / 4, 0));
  let sum = 0;
  for (let i = 0; i < points.length; i += 3) {
    const d = Math.hypot((points[i] - o[0]) / scale - a / 2, (points[i + 1] - o[1]) / scale - b / 2, (points[i + 2] - o[2]) / scale - c / 2);
    sum += (d - radius) ** 2;
  }
  return { radius: radius * scale, misfit: Math.sqrt(sum / n) / radius };
}

/** Gaussian elimination with pivoting on rows [A | b]. */
function solve(rows: Float64Array[]): Float64Array {
  const n = rows.length;
  for (let i = 0; i < n; i++) {
    let best = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(rows[r][i]) > Math.abs(rows[best][i])) best = r;
    [rows[i], rows[best]] = [rows[best], rows[i]];
    for (let r = i + 1; r < n; r++) {
      const f = rows[r][i] / rows[i][i];
      for (let c = i; c <= n; c++) rows[r][c] -= f * rows[i][c];
    }
  }
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let s = rows[i][n];
    for (let c = i + 1; c < n; c++) s -= rows[i][c] * x[c];
    x[i] = s / rows[i][i];
  }
  return x;
}

/** The share of the points that lie near a side of the box whose directions most of the normals have. */
function boxShare({ points, normals }: SurfaceSamples): number {
  const axes = sideDirections(cellNormals(points, normals));
  if (axes === null) return 0;
  const spans = axes.map((axis) => spanAlong(points, axis, 0.01));
  const near = NOT_A_FOOT.boxNearness * Math.max(...spans.map((s) => s.to - s.from));
  let on = 0;
  for (let i = 0; i < points.length; i += 3) {
    const isOn = axes.some((axis, k) => {
      const at = points[i] * axis[0] + points[i + 1] * axis[1] + points[i + 2] * axis[2];
      return Math.abs(at - spans[k].from) < near || Math.abs(at - spans[k].to) < near;
    });
    if (isOn) on++;
  }
  return (3 * on) / points.length;
}

/** Sums of the normals in the cells of a grid; their lengths tell how much surface each stands for. */
function cellNormals(points: Float64Array, normals: Float64Array): Float64Array {
  const unit = [[1, 0, 0], [0, 1, 0], [0, 0, 1]].map((axis) => spanAlong(points, axis, 0));
  const size = Math.max(...unit.map((s) => s.to - s.from)) / NOT_A_FOOT.normalCells;
  const cells = new Map<number, number>();
  const sums: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    const x = Math.floor((points[i] - unit[0].from) / size);
    const y = Math.floor((points[i + 1] - unit[1].from) / size);
    const z = Math.floor((points[i + 2] - unit[2].from) / size);
    const key = (x * 64 + y) * 64 + z;
    let at = cells.get(key);
    if (at === undefined) {
      at = sums.length;
      cells.set(key, at);
      sums.push(0, 0, 0);
    }
    for (let k = 0; k < 3; k++) sums[at + k] += normals[i + k];
  }
  return new Float64Array(sums);
}

/** Three directions at right angles: the commonest normal, the commonest across it, and the one across both. */
function sideDirections(sums: Float64Array): number[][] | null {
  const first = commonest(sums, null);
  if (first === null) return null;
  const second = commonest(sums, first);
  if (second === null) return null;
  const along = first[0] * second[0] + first[1] * second[1] + first[2] * second[2];
  const across = second.map((c, k) => c - along * first[k]);
  const length = Math.hypot(...across);
  const b = across.map((c) => c / length);
  return [first, b, [first[1] * b[2] - first[2] * b[1], first[2] * b[0] - first[0] * b[2], first[0] * b[1] - first[1] * b[0]]];
}

/** The direction (either way) that most of the normals have; among those across `across` where it is given. */
function commonest(sums: Float64Array, across: number[] | null): number[] | null {
  let best: number[] | null = null;
  let most = 0;
  const weights = new Float64Array(sums.length / 3);
  for (let i = 0; i < weights.length; i++) weights[i] = Math.sqrt(sums[3 * i] ** 2 + sums[3 * i + 1] ** 2 + sums[3 * i + 2] ** 2);
  // Every cell votes; some hundred of them are enough as candidates.
  const stride = 3 * Math.ceil(sums.length / 3 / 400);
  for (let c = 0; c < sums.length; c += stride) {
    const length = Math.hypot(sums[c], sums[c + 1], sums[c + 2]);
    if (length === 0) continue;
    const x = sums[c] / length;
    const y = sums[c + 1] / length;
    const z = sums[c + 2] / length;
    if (across !== null && Math.abs(x * across[0] + y * across[1] + z * across[2]) > 0.2) continue;
    let votes = 0;
    const mean = [0, 0, 0];
    for (let i = 0; i < sums.length; i += 3) {
      const dot = x * sums[i] + y * sums[i + 1] + z * sums[i + 2];
      const weight = weights[i / 3];
      if (Math.abs(dot) < NOT_A_FOOT.sideCosine * weight) continue;
      votes += weight;
      for (let k = 0; k < 3; k++) mean[k] += Math.sign(dot) * sums[i + k];
    }
    if (votes > most) {
      most = votes;
      const size = Math.hypot(...mean);
      best = mean.map((m) => m / size);
    }
  }
  return best;
}
