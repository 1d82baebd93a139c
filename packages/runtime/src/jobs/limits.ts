/** Lower goes first. */
export const PRIORITY = { person: 0, batch: 10 } as const;

/** A job is tried so often where it ends by a fault, and given to a worker so often where that dies. */
export const LIMITS = { attempts: 3, crashes: 2 } as const;

/** Wait before the next try of a job that ended by so many faults. */
export const backoffAfter = (attempts: number, backoffMs: number): number => backoffMs * 2 ** (attempts - 1);
export const longestBackoff = (backoffMs: number): number => backoffAfter(LIMITS.attempts - 1, backoffMs);
