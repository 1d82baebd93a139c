/**
 * Solves A·x = b for a symmetric positive definite band matrix, in place.
 *
 * @param band lower band by rows: A[i][i − d] at band[i · (width + 1) + d], d = 0 … width; replaced by its factor
 * @param rhs right-hand sides one after the other, each of n numbers; replaced by the solutions
 * @throws RangeError where the matrix is not positive definite
 */
export function solveBanded(band: Float64Array, width: number, rhs: readonly Float64Array[]): void {
  const stride = width + 1;
  const n = band.length / stride;
  for (let i = 0; i < n; i++) {
    const first = Math.max(0, i - width);
    for (let j = first; j <= i; j++) {
      let sum = band[i * stride + i - j];
      const from = Math.max(first, j - width);
      let a = i * stride + i - from;
      let b = j * stride + j - from;
      for (let k = from; k < j; k++) sum -= band[a--] * band[b--];
      if (j < i) {
        band[i * stride + i - j] = sum * band[j * stride];
      } else {
        if (!(sum > 0)) throw new RangeError('band matrix is not positive definite');
        band[i * stride] = 1 / Math.sqrt(sum);
      }
    }
  }
  for (const x of rhs) {
    for (let i = 0; i < n; i++) {
      let sum = x[i];
      for (let k = Math.max(0, i - width); k < i; k++) sum -= band[i * stride + i - k] * x[k];
      x[i] = sum * band[i * stride];
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i];
      const last = Math.min(n - 1, i + width);
      for (let k = i + 1; k <= last; k++) sum -= band[k * stride + k - i] * x[k];
      x[i] = sum * band[i * stride];
    }
  }
}
