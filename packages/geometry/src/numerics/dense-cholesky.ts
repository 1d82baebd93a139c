/**
 * The lower Cholesky factor of a small symmetric positive definite matrix, row-major n × n (Golub & Van Loan, Matrix
 * Computations, 4.2); null where the matrix is not positive definite within rounding.
 */
export function denseCholesky(matrix: ArrayLike<number>, n: number): Float64Array | null {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[n * i + j];
      for (let k = 0; k < j; k++) sum -= l[n * i + k] * l[n * j + k];
      if (i > j) l[n * i + j] = sum / l[n * j + j];
      else if (sum > n * Number.EPSILON * matrix[n * i + i]) l[n * i + i] = Math.sqrt(sum);
      else return null;
    }
  }
  return l;
}

/** x of L·Lᵀ·x = b, given the factor L. */
export function solveCholesky(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] -= l[n * i + k] * x[k];
    x[i] /= l[n * i + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] -= l[n * k + i] * x[k];
    x[i] /= l[n * i + i];
  }
  return x;
}

/** (L·Lᵀ)⁻¹, row-major n × n, given the factor L. */
export function invertCholesky(l: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let c = 0; c < n; c++) {
    const column = solveCholesky(l, Float64Array.from({ length: n }, (_, i) => (i === c ? 1 : 0)));
    for (let r = 0; r < n; r++) out[n * r + c] = column[r];
  }
  return out;
}
