/** Mean, spread and limits of agreement of differences program − truth. */
export interface Agreement {
  readonly count: number;
  readonly bias: number;
  readonly sd: number;
  /** Half-width of the 95 % interval of the bias: 1.96·SD/√N. */
  readonly biasHalf: number;
  /** Bias ± 1.96·SD: between these lie about 95 % of single differences (Bland and Altman 1986). */
  readonly low: number;
  readonly high: number;
}

export function agreement(differences: readonly number[]): Agreement {
  const count = differences.length;
  const bias = differences.reduce((a, b) => a + b, 0) / count;
  const sd = count < 2 ? 0 : Math.sqrt(differences.reduce((sum, d) => sum + (d - bias) ** 2, 0) / (count - 1));
  return { count, bias, sd, biasHalf: (1.96 * sd) / Math.sqrt(count), low: bias - 1.96 * sd, high: bias + 1.96 * sd };
}

/** The score interval of a share at 95 % (Wilson 1927, J Am Stat Assoc 22:209). */
export function shareInterval(part: number, whole: number): { readonly low: number; readonly high: number } {
  if (whole === 0) return { low: 0, high: 1 };
  const z = 1.959964;
  const p = part / whole;
  const middle = p + (z * z) / (2 * whole);
  const half = z * Math.sqrt((p * (1 - p)) / whole + (z * z) / (4 * whole * whole));
  const scale = 1 + (z * z) / whole;
  return { low: Math.max(0, (middle - half) / scale), high: Math.min(1, (middle + half) / scale) };
}
