import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import type { Point } from './landmarks.js';

/** The points of a section's curves with the least and the greatest y among those with z ≤ ceiling (the curves are cut exactly at the ceiling). */
export function endsBelow(curves: readonly SectionCurve[], ceiling: number): [Point, Point] | null {
  let low: Point | null = null;
  let high: Point | null = null;
  const take = (x: number, y: number, z: number): void => {
    if (low === null || y < low[1]) low = [x, y, z];
    if (high === null || y > high[1]) high = [x, y, z];
  };
  for (const { points, closed } of curves) {
    const count = points.length / 3;
    for (let i = 0; i < count; i++) {
      const x = points[3 * i];
      const y = points[3 * i + 1];
      const z = points[3 * i + 2];
      if (z <= ceiling) take(x, y, z);
      if (!closed && i + 1 === count) break;
      const j = 3 * ((i + 1) % count);
      const x2 = points[j];
      const y2 = points[j + 1];
      const z2 = points[j + 2];
      const t = (ceiling - z) / (z2 - z);
      if (z <= ceiling !== z2 <= ceiling) take(x + t * (x2 - x), y + t * (y2 - y), ceiling);
    }
  }
  const ends = [low, high] as readonly (Point | null)[];
  return ends[0] === null || ends[1] === null || !(ends[1][1] > ends[0][1]) ? null : [ends[0], ends[1]];
}

/** Least and greatest y of the same. */
export function breadthBelow(curves: readonly SectionCurve[], ceiling: number): [number, number] | null {
  const ends = endsBelow(curves, ceiling);
  return ends === null ? null : [ends[0][1], ends[1][1]];
}
