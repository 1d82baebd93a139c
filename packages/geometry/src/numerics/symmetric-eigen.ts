/** Eigenvalues and eigenvectors of a symmetric 3 × 3 matrix. */
export interface SymmetricEigen {
  /** Largest first. */
  readonly values: readonly [number, number, number];
  /** Unit vectors at right angles, in the order of the values; their signs mean nothing. */
  readonly vectors: readonly [Float64Array, Float64Array, Float64Array];
}

/** More sweeps than Jacobi's method ever needs for three rows. */
const SWEEPS = 30;

/** Jacobi's cyclic method (Golub & Van Loan, Matrix Computations, 8.5). `m` is row-major, 9 numbers. */
export function symmetricEigen(m: ArrayLike<number>): SymmetricEigen {
  const a = Float64Array.from(m);
  const v = new Float64Array([1, 0, 0, 0, 1, 0, 0, 0, 1]);
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    if (a[1] === 0 && a[2] === 0 && a[5] === 0) break;
    rotate(a, v, 0, 1);
    rotate(a, v, 0, 2);
    rotate(a, v, 1, 2);
  }
  const order = [0, 1, 2].sort((i, j) => a[4 * j] - a[4 * i]);
  return {
    values: order.map((i) => a[4 * i]) as [number, number, number],
    vectors: order.map((i) => new Float64Array([v[i], v[3 + i], v[6 + i]])) as [Float64Array, Float64Array, Float64Array],
  };
}

/** Turns rows and columns p and q so that the entry (p, q) becomes 0. */
function rotate(a: Float64Array, v: Float64Array, p: number, q: number): void {
  const off = a[3 * p + q];
  if (off === 0) return;
  const theta = (a[4 * q] - a[4 * p]) / (2 * off);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  const r = 3 - p - q;
  const rp = a[3 * r + p];
  const rq = a[3 * r + q];
  a[4 * p] -= t * off;
  a[4 * q] += t * off;
  a[3 * p + q] = a[3 * q + p] = 0;
  a[3 * r + p] = a[3 * p + r] = c * rp - s * rq;
  a[3 * r + q] = a[3 * q + r] = s * rp + c * rq;
  for (let row = 0; row < 9; row += 3) {
    const vp = v[row + p];
    const vq = v[row + q];
    v[row + p] = c * vp - s * vq;
    v[row + q] = s * vp + c * vq;
  }
}
