import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Point } from '@cast-to-last/foot/landmarks';

/** The point of a tape that lies nearest to a point. */
export interface NearTape {
  readonly foot: Point;
  /** mm */
  readonly away: number;
}

/**
 * The point of a tape nearest to a point; null where none lies nearer than `within`, mm.
 *
 * @param tape x, y, z of the points of a closed line
 */
export function nearestOnTape(tape: Float64Array, [x, y, z]: Point, within: number): NearTape | null {
  let nearest: NearTape | null = null;
  for (let a = 0; a < tape.length; a += 3) {
    const b = (a + 3) % tape.length;
    const u = tape[b] - tape[a];
    const v = tape[b + 1] - tape[a + 1];
    const w = tape[b + 2] - tape[a + 2];
    const square = u * u + v * v + w * w;
    const s = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - tape[a]) * u + (y - tape[a + 1]) * v + (z - tape[a + 2]) * w) / square));
    const foot: Point = [tape[a] + s * u, tape[a + 1] + s * v, tape[a + 2] + s * w];
    const away = length3(x - foot[0], y - foot[1], z - foot[2]);
    if (away < (nearest === null ? within : nearest.away)) nearest = { foot, away };
  }
  return nearest;
}
