import type { Plane } from '../rest-plane.js';
import { restPlaneUnder } from '../rest-plane.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const BUMP = {
  /** Around a remnant of a mark, between these distances, mm, nearly all of the sole stands higher by more than this, mm. */
  from: 8,
  to: 13,
  rises: 0.7,
  /** Share of the ring that may stand lower: a plate goes on to one side at least. */
  lower: 0.25,
  /** What lies this near to it is left out, mm. */
  leaves: 8,
  /** Bumps that are left out. */
  most: 12,
} as const;

/**
 * The plane that a sole rests on, remnants of marks left out: three points carry it, and one that rises out of its
 * surroundings all round is no part of a sole that was pressed on a plate.
 *
 * @param sole vertices of the sole
 * @returns null where three points carry none
 */
export function restBesideBumps(cast: StandingCast, sole: Uint32Array): Plane | null {
  const { mesh: { positions: p }, landmarks: { heelCentre: h, ballCentre: b } } = cast;
  let left = sole;
  let plane: Plane | null = null;
  for (let round = 0; round <= BUMP.most; round++) {
    const points = new Float64Array(3 * left.length);
    left.forEach((v, i) => points.set(p.subarray(3 * v, 3 * v + 3), 3 * i));
    const found = restPlaneUnder(points, (h[0] + b[0]) / 2, (h[1] + b[1]) / 2);
    if (found === null) break;
    plane = found;
    const bump = highestBump(cast, sole, found, found.carriers.map((i) => left[i]));
    if (bump < 0) break;
    left = left.filter((v) => Math.hypot(p[3 * v] - p[3 * bump], p[3 * v + 1] - p[3 * bump + 1]) > BUMP.leaves);
  }
  return plane;
}

/** The carrier that its surroundings stand highest over; −1 where none is a bump. */
function highestBump({ mesh: { positions: p } }: StandingCast, sole: Uint32Array, { a, b, c }: Plane, carriers: readonly number[]): number {
  let worst = -1;
  let most = BUMP.rises as number;
  for (const v of carriers) {
    const ring: number[] = [];
    for (const w of sole) {
      const far = Math.hypot(p[3 * w] - p[3 * v], p[3 * w + 1] - p[3 * v + 1]);
      if (far >= BUMP.from && far < BUMP.to) ring.push(p[3 * w + 2] - a * p[3 * w] - b * p[3 * w + 1] - c);
    }
    ring.sort((m, n) => m - n);
    const rises = ring.length === 0 ? 0 : ring[Math.floor(BUMP.lower * ring.length)];
    if (rises > most) {
      worst = v;
      most = rises;
    }
  }
  return worst;
}
