import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';

/** Share (0 to 1) of made-up surface round the given points. */
export type FilledNear = (...near: Point[]) => number;

/** How far round a point the surface counts, mm along each axis. */
const REACH = 4;

/** Tells how much of the surface near given points repair made. */
export function filledNear({ mesh: { positions: p }, filled }: Wrapped): FilledNear {
  const made: number[] = [];
  for (let v = filled.indexOf(1); v >= 0; v = filled.indexOf(1, v + 1)) made.push(v);
  const isNear = (v: number, q: Point): boolean =>
    Math.abs(p[3 * v] - q[0]) <= REACH && Math.abs(p[3 * v + 1] - q[1]) <= REACH && Math.abs(p[3 * v + 2] - q[2]) <= REACH;
  return (...near) => {
    let madeNear = 0;
    for (const q of near) for (const v of made) if (isNear(v, q)) madeNear++;
    // Mostly there is none, and the whole surface need not be looked at.
    if (madeNear === 0) return 0;
    let all = 0;
    for (const q of near) for (let v = 0; 3 * v < p.length; v++) if (isNear(v, q)) all++;
    return madeNear / all;
  };
}
