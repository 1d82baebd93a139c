/** A wrong call: the program was asked for something that it cannot begin. Exit code 2. */
export class WrongCall extends Error {
  override readonly name = 'WrongCall';
}

export const EXIT = { done: 0, fault: 1, wrongCall: 2, refused: 3 } as const;
