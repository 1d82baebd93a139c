import { section } from '@cast-to-last/geometry/sections/section';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { StandingCast } from './standing-cast.js';

/** The cross-section of the cast a little behind its front. */
export interface FrontSection {
  /** Along Y, mm. */
  readonly breadth: number;
  /** Share (0 to 1) of its convex hull that it fills: toes leave gaps and grooves. */
  readonly solidity: number;
}

/** Curves with fewer points are specks. */
const LEAST_POINTS = 8;

/** The sections at so many mm behind the front; those that meet nothing closed are left out. */
export function frontSections({ mesh, twin, landmarks }: StandingCast, behind: readonly number[]): FrontSection[] {
  return behind.flatMap((d) => {
    const curves = section(mesh, twin, [1, 0, 0], landmarks.toeTip[0] - d).filter((c) => c.closed && c.points.length >= 3 * LEAST_POINTS);
    if (curves.length === 0) return [];
    const points = new Float64Array(curves.reduce((sum, c) => sum + c.points.length, 0));
    let at = 0;
    let area = 0;
    let low = Infinity;
    let high = -Infinity;
    for (const { points: p } of curves) {
      points.set(p, at);
      at += p.length;
      area += areaAcross(p);
      for (let i = 1; i < p.length; i += 3) {
        if (p[i] < low) low = p[i];
        if (p[i] > high) high = p[i];
      }
    }
    return [{ breadth: high - low, solidity: area / areaAcross(tapeRound(points, [0, 1, 0], [0, 0, 1]).line) }];
  });
}

/** Area that a closed curve in a plane across the foot encloses, mm². */
function areaAcross(p: Float64Array): number {
  let twice = 0;
  for (let i = 0; i < p.length; i += 3) {
    const j = i + 3 === p.length ? 0 : i + 3;
    twice += p[i + 1] * p[j + 2] - p[j + 1] * p[i + 2];
  }
  return Math.abs(twice) / 2;
}
