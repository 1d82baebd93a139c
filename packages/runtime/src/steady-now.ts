/**
 * Milliseconds since 1970, for the age of what may be thrown away: by the clock as it stood at the start of the process and
 * the time since, or by the clock now where that is less. A clock that is set ahead makes nothing older.
 */
export const steadyNow = (): number => Math.min(Date.now(), performance.timeOrigin + performance.now());
