import { length3 } from '../numerics/lengths.js';

export const BAY = {
  /** A stretch of new boundary that runs into an opening is a bay of its own where it is as long, mm, and over the way across its mouth. */
  shore: 60,
  perMouth: 3,
} as const;

/**
 * Parts the bays from a boundary loop: what was given up next to an opening runs into it, but is a gap to close. Each bay
 * lies between two vertices of the edge that was there before, and is closed across its mouth.
 *
 * @param positions mm
 * @param loop boundary loop
 * @param isOld whether a vertex lay on the boundary before
 * @returns the loop without its bays first, then they; all run as the loop does
 */
export function partBays(positions: Float64Array, loop: Uint32Array, isOld: (vertex: number) => boolean): Uint32Array[] {
  const first = loop.findIndex((v) => isOld(v));
  if (first < 0) return [loop];
  const between = (a: number, b: number): number =>
    length3(positions[3 * a] - positions[3 * b], positions[3 * a + 1] - positions[3 * b + 1], positions[3 * a + 2] - positions[3 * b + 2]);
  const rest: number[] = [loop[first]];
  const bays: Uint32Array[] = [];
  let run: number[] = [loop[first]];
  let shore = 0;
  for (let i = 1; i <= loop.length; i++) {
    const v = loop[(first + i) % loop.length];
    shore += between(run[run.length - 1], v);
    run.push(v);
    if (!isOld(v)) continue;
    if (run.length > 2 && run[0] !== v && shore >= Math.max(BAY.shore, BAY.perMouth * between(run[0], v))) {
      bays.push(Uint32Array.from(run));
      rest.push(v);
    } else {
      for (let k = 1; k < run.length; k++) rest.push(run[k]);
    }
    run = [v];
    shore = 0;
  }
  rest.pop();
  return rest.length < 3 ? [loop] : [Uint32Array.from(rest), ...bays];
}
