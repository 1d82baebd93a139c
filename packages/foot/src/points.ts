import { section } from '@cast-to-last/geometry/sections/section';
import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';

/** Fraction of foot length at which the instep point lies. Common practice, no source; 50 to 55 % are in use. */
export const INSTEP_STATION = 0.5;

/** The shin must rise at least this far above the crook, mm; otherwise the cast stops short of it. */
const LEAST_SHIN = 5;

/** The highest point of the section at x; null where nothing is there or the section's top is open. */
export function highestAt(surface: Wrapped, x: number): Point | null {
  let best: Point | null = null;
  for (const { points, closed } of section(surface.mesh, surface.twin, [1, 0, 0], x)) {
    const last = points.length - 3;
    for (let i = 0; i <= last; i += 3) {
      if (best !== null && points[i + 2] <= best[2]) continue;
      if (!closed && (i === 0 || i === last)) return null;
      best = [points[i], points[i + 1], points[i + 2]];
    }
  }
  return best;
}

/** The sagittal profile on the midline: the section by the plane y = 0, every curve. */
export const midlineProfile = (surface: Wrapped): Float64Array[] =>
  section(surface.mesh, surface.twin, [0, 1, 0], 0).map((curve) => curve.points);

/** Rearmost-lowest corner of the heel seat: the profile's point that a line at 45° touches first from behind and below. */
export function heelCorner(profiles: readonly Float64Array[]): Point | null {
  let best: Point | null = null;
  for (const points of profiles) {
    for (let i = 0; i < points.length; i += 3) {
      if (best === null || points[i] + points[i + 2] < best[0] + best[2]) best = [points[i], points[i + 1], points[i + 2]];
    }
  }
  return best;
}

/**
 * The crook of the ankle: the point of the midline's front that a line at 45° touches last from above and ahead, as the
 * heel corner is the one that it touches first from behind and below.
 *
 * @param lowestTop the height up to which the cast is whole
 * @returns null where the cast ends before the shin rises from the bend
 */
export function crookOfAnkle(profiles: readonly Float64Array[], instep: Point, footLength: number, lowestTop: number): Point | null {
  let crook: Point | null = null;
  let top = -Infinity;
  for (const points of profiles) {
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i];
      const y = points[i + 1];
      const z = points[i + 2];
      if (x < 0.25 * footLength || x > instep[0] || z < 0.85 * instep[2]) continue;
      top = Math.max(top, z);
      if (crook === null || x + z < crook[0] + crook[2]) crook = [x, y, z];
    }
  }
  if (crook === null || crook[0] > instep[0] - 0.02 * footLength) return null;
  return Math.min(top, lowestTop) > crook[2] + LEAST_SHIN ? crook : null;
}
