import type { Mesh } from '@cast-to-last/geometry/mesh';
import { compactVertices } from '@cast-to-last/geometry/components';
import { lowPass } from '@cast-to-last/geometry/low-pass';
import { medialSign } from '../side.js';
import { restPlaneUnder } from '../rest-plane.js';
import type { StandingCast } from './standing-cast.js';

export const LEVEL = {
  /** Standard deviation of the blur, mm: of 2 to 8 the one that left the least roll on generated casts of the tuning range. */
  blur: 4,
  /** What lies lower than this is blurred, share of foot length: it carries the cast, or lies beside what does. */
  ceiling: 0.08,
} as const;

/**
 * How far the rest plane would roll about X if ridges and small bumps under the sole did not carry it, inner edge up
 * positive, radians: that of the surface blurred. What was left of them by smoothing tilts the frame by up to a degree.
 */
export function levelRoll(cast: StandingCast): number {
  const { heelCentre: h, ballCentre: b, footLength } = cast.landmarks;
  try {
    const { positions } = lowPass(lowPart(cast.mesh, LEVEL.ceiling * footLength), LEVEL.blur);
    return Math.atan(medialSign(cast.side) * restPlaneUnder(positions, (h[0] + b[0]) / 2, (h[1] + b[1]) / 2).b);
  } catch (error) {
    if (error instanceof RangeError) return 0;
    throw error;
  }
}

/** The triangles that lie lower than a height. */
function lowPart({ positions: p, triangles: t }: Mesh, ceiling: number): Mesh {
  const kept: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    if (p[3 * t[f] + 2] < ceiling && p[3 * t[f + 1] + 2] < ceiling && p[3 * t[f + 2] + 2] < ceiling) kept.push(t[f], t[f + 1], t[f + 2]);
  }
  return compactVertices({ positions: p, triangles: Uint32Array.from(kept) });
}
