import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Girth, Wrapped } from './girths.js';
import { girthInPlane } from './girths.js';
import { legEnd } from './leg-end.js';

/** Where the ankle's girth is sought: above the malleoli. Lateral malleolus height P99 is 87 mm (ANSUR II), FL P99 302 mm. */
export const ANKLE = { fromFraction: 0.33, stepMm: 2, leastReachMm: 12 } as const;

/**
 * The smallest horizontal tape above the ankle bones.
 *
 * @param wholeTo height up to which the surface is whole all round, mm
 * @returns the girth, or one sentence on why it is absent
 */
export function ankleGirth(surface: Wrapped, footLength: number, wholeTo: number): Girth | { readonly absent: string } {
  const from = ANKLE.fromFraction * footLength;
  const top = Math.min(wholeTo, bounds(surface.mesh.positions)[5], legEnd(surface.mesh, footLength)) - 1;
  if (top - from < ANKLE.leastReachMm) return { absent: 'The cast does not reach far enough above the ankle bones.' };
  const limit = 0.55 * footLength;
  let best: Girth | null = null;
  let height = 0;
  for (let z = from; z <= top; z += ANKLE.stepMm) {
    const girth = girthInPlane(surface, [0, 0, z], [1, 0, 0], [0, 1, 0], (curves) =>
      curves.filter((c) => c.points.length >= 9 && c.points[0] < limit).slice(0, 1),
    );
    if (girth !== null && (best === null || girth.length < best.length)) {
      best = girth;
      height = z;
    }
  }
  if (best === null) return { absent: 'The section above the ankle bones is open.' };
  return height > top - 2 * ANKLE.stepMm ? { absent: 'The leg is still growing narrower where the cast ends.' } : best;
}
