import { section } from '@cast-to-last/geometry/section';
import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';

/** Fraction of foot length at which the instep point lies. Common practice, no source; 50 to 55 % are in use. */
export const INSTEP_STATION = 0.5;

/** A front ankle bend shallower than this is none: the cast stops short of it. mm. */
const LEAST_CROOK = 3;

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
 * The crook of the ankle: the point of the profile's front and top that lies deepest under the line which bridges
 * forefoot and shin.
 *
 * @param instep a point on the dorsum, ahead of the crook
 * @param lowestTop the height up to which the cast is whole
 */
export function crookOfAnkle(profiles: readonly Float64Array[], instep: Point, footLength: number, lowestTop: number): Point | null {
  // The outer front-and-top boundary as seen from ahead and above: kept are points of the dorsum and the shin's front.
  const front: Point[] = [];
  for (const points of profiles) {
    for (let i = 0; i < points.length; i += 3) {
      const [x, y, z] = [points[i], points[i + 1], points[i + 2]];
      if (x < 0.2 * footLength || z > lowestTop || z < 0.12 * footLength) continue;
      front.push([x, y, z]);
    }
  }
  if (front.length < 3) return null;
  const ahead = instep;
  let shin: Point | null = null;
  let slope = -Infinity;
  // The bridging line from the dorsum to the shin touches the shin where its angle is greatest.
  for (const p of front) {
    if (p[2] < ahead[2] + 15) continue;
    const angle = Math.atan2(p[0] - ahead[0], p[2] - ahead[2]);
    if (angle > slope) {
      slope = angle;
      shin = p;
    }
  }
  if (shin === null) return null;
  const [dx, dz] = [shin[0] - ahead[0], shin[2] - ahead[2]];
  const length = Math.hypot(dx, dz);
  let crook: Point | null = null;
  let depth = LEAST_CROOK;
  for (const p of front) {
    const along = ((p[0] - ahead[0]) * dx + (p[2] - ahead[2]) * dz) / length;
    if (along < 0 || along > length || p[2] < ahead[2] - 5) continue;
    // Only the front surface counts: of all points at this place along the bridge, the one nearest to it.
    const below = ((p[0] - ahead[0]) * -dz + (p[2] - ahead[2]) * dx) / length;
    if (below > depth && isFront(front, p, ahead, dx / length, dz / length, along, below)) {
      depth = below;
      crook = p;
    }
  }
  return crook;
}

function isFront(front: readonly Point[], p: Point, ahead: Point, ux: number, uz: number, along: number, below: number): boolean {
  for (const q of front) {
    if (q === p) continue;
    const qa = (q[0] - ahead[0]) * ux + (q[2] - ahead[2]) * uz;
    const qb = (q[0] - ahead[0]) * -uz + (q[2] - ahead[2]) * ux;
    if (Math.abs(qa - along) < 2 && qb < below - 4) return false;
  }
  return true;
}
