import type { Rng } from '../support/rng.js';

/** Something that takes bytes from outside. What it may throw is named; anything else, and more time than its limit, is a find. */
export interface Target {
  readonly name: string;
  readonly limitMs: number;
  /** Bytes that are likely to go deep. */
  make(random: Rng): Uint8Array | Promise<Uint8Array>;
  take(bytes: Uint8Array): Promise<void>;
  /** Lets go of what `make` and `take` opened. */
  end?(): Promise<void>;
}

/** Runs the work; an error that is none of the kinds goes on. */
export async function mayThrow(kinds: readonly (abstract new (...args: never[]) => Error)[], work: () => unknown): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (!kinds.some((kind) => error instanceof kind)) throw error;
  }
}
