import { WALL_MM } from '@cast-to-last/pipeline/shell/wall-limits';
import { numberOf } from '../../parts/number-of.js';

/** What is wrong with a wall as it was typed; undefined where nothing is, or nothing was typed. */
export function wallFault(typed: string): string | undefined {
  if (typed.trim() === '') return undefined;
  const mm = numberOf(typed);
  if (mm === null) return 'must be a number';
  return mm < WALL_MM.least || mm > WALL_MM.most ? `must be ${WALL_MM.least} to ${WALL_MM.most} mm` : undefined;
}
