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
  // Columns c … c + 3 at a time, held by their rows from c on: what follows is read and written once for four.
  const columns = Array.from({ length: AT_ONCE }, () => new Float64Array(stride + AT_ONCE));
  for (let c = 0; c < n; c += AT_ONCE) {
    const next = Math.min(n, c + AT_ONCE);
    for (let j = c; j < next; j++) {
      const column = columns[j - c].fill(0);
      const inverse = finishColumn(band, stride, columns, c, j);
      for (const x of rhs) {
        const known = x[j] * inverse;
        x[j] = known;
        for (let i = Math.min(n - 1, j + width); i > j; i--) x[i] -= column[i - c] * known;
      }
    }
    takeColumns(band, stride, columns, c, next);
  }
  for (let i = n - 1; i >= 0; i--) {
    const last = Math.min(n - 1, i + width);
    for (const x of rhs) {
      let sum = x[i];
      for (let k = i + 1, at = (i + 1) * stride + 1; k <= last; k++, at += stride + 1) sum -= band[at] * x[k];
      x[i] = sum * band[i * stride];
    }
  }
}

const AT_ONCE = 4;

/** Makes column j of the factor, all columns before c being taken from it already; the inverse of its diagonal entry. */
function finishColumn(band: Float64Array, stride: number, columns: readonly Float64Array[], c: number, j: number): number {
  const column = columns[j - c];
  const last = Math.min(band.length / stride - 1, j + stride - 1);
  let inverse = 0;
  for (let i = j; i <= last; i++) {
    const at = i * stride + i - j;
    let entry = band[at];
    for (let k = 0; k < j - c; k++) entry -= columns[k][i - c] * columns[k][j - c];
    if (i === j) {
      if (!(entry > 0)) throw new RangeError('band matrix is not positive definite');
      inverse = 1 / Math.sqrt(entry);
      band[at] = inverse;
    } else {
      column[i - c] = entry * inverse;
      band[at] = column[i - c];
    }
  }
  return inverse;
}

/** Takes the products of the columns from c on from the rows and columns from `next` on. */
function takeColumns(band: Float64Array, stride: number, columns: readonly Float64Array[], c: number, next: number): void {
  const [k0, k1, k2, k3] = columns;
  const last = Math.min(band.length / stride - 1, next - 1 + stride - 1);
  for (let i = next; i <= last; i++) {
    const e0 = k0[i - c];
    const e1 = k1[i - c];
    const e2 = k2[i - c];
    const e3 = k3[i - c];
    for (let at = i * stride, j = i - c; j >= next - c; at++, j--) {
      band[at] = band[at] - e0 * k0[j] - e1 * k1[j] - e2 * k2[j] - e3 * k3[j];
    }
  }
}
