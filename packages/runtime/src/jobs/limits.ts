/** Lower goes first. */
export const PRIORITY = { person: 0, batch: 10 } as const;

/** A job is tried so often where it ends by a fault, and given to a worker so often where that dies. */
export const LIMITS = { attempts: 3, crashes: 2 } as const;
