/** Numbers as the screens write them. */

const MINUS = '−';

/** A number with so many decimals at most, zeros at the end left out. */
export const figure = (value: number, decimals = 2): string => (Number(value.toFixed(decimals)) + 0).toLocaleString('en', { maximumFractionDigits: decimals, useGrouping: Math.abs(value) >= 10_000 }).replace('-', MINUS);

/** With all decimals, for columns. */
export const fixed = (value: number, decimals = 1): string => value.toFixed(decimals).replace('-', MINUS).replace(/^−(0(?:\.0+)?)$/, '$1');

/** A change: always with its sign, and no sign where it rounds to nothing. */
export function signed(value: number, decimals = 1): string {
  const text = fixed(value, decimals);
  return Number(value.toFixed(decimals)) > 0 ? `+${text}` : text;
}

export const counted = (n: number, one: string): string => `${n.toLocaleString('en')} ${n === 1 ? one : `${one}s`}`;
