/** NaN where there is no value. */
export const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** The value that this share of all lies below, itself one of them; NaN where there is none. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.length === 0 ? NaN : sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

/** A part of a whole in per cent, with both counts, as tables show it; a dash where there is no whole. */
export const share = (part: number, whole: number): string => (whole === 0 ? '–' : `${((100 * part) / whole).toFixed(1)} % (${part}/${whole})`);
