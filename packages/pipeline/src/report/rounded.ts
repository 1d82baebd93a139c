/** Decimals kept of a number in mm, mm², deg: far below what any measure means, enough to see a repeat. */
const DECIMALS = 4;

/** A number as reports keep it, never −0. */
export const rounded = (value: number): number => roundedTo(value, DECIMALS);

/** A number to these decimals, never −0. */
export function roundedTo(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
}
