/** Weights that carry a profile's height across a gap: the height over the middle that both sides of the gap ask for. */
export interface EvenFilter {
  /** Half the gap's width, mm. */
  readonly gap: number;
  /** First and last sample used on either side, in steps from the middle. */
  readonly from: number;
  readonly to: number;
  /** Weight of the mean of the two samples at +k and −k, from k = from. */
  readonly weights: Float64Array;
}

/**
 * Least squares of c0 + c2·s² + c4·s⁴ through the even part of a profile on gap ≤ |s| ≤ gap + reach; the weights give c0.
 *
 * @param step distance of the samples, mm
 */
export function evenFilter(gap: number, reach: number, step: number): EvenFilter {
  const from = Math.max(1, Math.round(gap / step));
  const to = Math.max(from + 3, Math.round((gap + reach) / step));
  const outer = to * step;
  const normal = [0, 1, 2].map(() => [0, 0, 0]);
  for (let k = from; k <= to; k++) {
    const s = ((k * step) / outer) ** 2;
    const row = [1, s, s * s];
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) normal[i][j] += row[i] * row[j];
  }
  // First row of the inverse of the symmetric 3 × 3, by cofactors.
  const [[a, b, c], [, d, e], [, , f]] = normal;
  const c0 = d * f - e * e;
  const c1 = c * e - b * f;
  const c2 = b * e - c * d;
  const determinant = a * c0 + b * c1 + c * c2;
  const weights = new Float64Array(to - from + 1);
  for (let k = from; k <= to; k++) {
    const s = ((k * step) / outer) ** 2;
    weights[k - from] = (c0 + c1 * s + c2 * s * s) / determinant;
  }
  return { gap, from, to, weights };
}

/** The height over the middle that both sides of the gap ask for. @param mean mean of the samples at +k and −k, from k = 1 */
export function askedHeight(filter: EvenFilter, mean: Float64Array): number {
  let asked = 0;
  for (let k = filter.from; k <= filter.to; k++) asked += filter.weights[k - filter.from] * mean[k - 1];
  return asked;
}
