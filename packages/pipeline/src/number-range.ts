import { z } from 'zod';

/** A number in a hand-written file, from `least` to `most`; `unit` is for the refusal, '' where there is none. */
export function range(least: number, most: number, unit: string) {
  const of = unit === '' ? '' : ` ${unit}`;
  return z.number().min(least, `must be at least ${least}${of}`).max(most, `must be at most ${most}${of}`);
}
