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
  // Row by row; row i of the factor is made from the rows above that reach into its band.
  const row = new Float64Array(stride);
  for (let i = 0; i < n; i++) {
    const first = Math.max(0, i - width);
    const reach = i - first;
    for (let k = 0; k <= reach; k++) row[k] = band[i * stride + reach - k];
    for (let k = 0; k < reach; k++) {
      const j = first + k;
      // Column of j from the first entry that both rows hold: row j holds columns from j − width on.
      const from = Math.max(0, j - width - first);
      let sum = row[k];
      let b = j * stride + (j - first - from);
      for (let c = from; c < k; c++) sum -= row[c] * band[b--];
      row[k] = sum * band[j * stride];
    }
    let pivot = row[reach];
    for (let k = 0; k < reach; k++) pivot -= row[k] * row[k];
    if (!(pivot > 0)) throw new RangeError('band matrix is not positive definite');
    for (let k = 0; k < reach; k++) band[i * stride + reach - k] = row[k];
    band[i * stride] = 1 / Math.sqrt(pivot);
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
