import { InvalidArgumentError } from 'commander';
import { WALL_MM } from '@cast-to-last/pipeline/shell/wall-limits';

/** A wrong call: the program was asked for something that it cannot begin. Exit code 2. */
export class WrongCall extends Error {
  override readonly name = 'WrongCall';
}

export const EXIT = { done: 0, fault: 1, wrongCall: 2, refused: 3 } as const;

/** Wall of a plaster shell, mm. */
export function parseWall(text: string): number {
  const value = text.trim() === '' ? NaN : Number(text);
  if (!(value >= WALL_MM.least && value <= WALL_MM.most)) throw new InvalidArgumentError(`It must be a number of millimetres from ${WALL_MM.least} to ${WALL_MM.most}.`);
  return value;
}
