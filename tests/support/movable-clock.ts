import { onTestFinished } from 'vitest';

/** Sets the clock of this process ahead or back by so many milliseconds against the true one, until the test ends. */
export interface MovableClock {
  set(offsetMs: number): void;
}

/**
 * Takes the place of Date. Time goes on; timers and `performance.now` are left alone, as they are where a machine's clock is
 * set. The database in the folder goes by the same Date.
 */
export function movableClock(): MovableClock {
  const True = globalThis.Date;
  let offset = 0;
  class Moved extends True {
    constructor(...args: readonly unknown[]) {
      super(...((args.length === 0 ? [Moved.now()] : args) as [number]));
    }
    static override now(): number {
      return True.now() + offset;
    }
    static override [Symbol.hasInstance](value: unknown): boolean {
      return True.prototype.isPrototypeOf(value as object);
    }
  }
  globalThis.Date = Moved as DateConstructor;
  onTestFinished(() => {
    globalThis.Date = True;
  });
  return {
    set: (offsetMs) => {
      offset = offsetMs;
    },
  };
}
