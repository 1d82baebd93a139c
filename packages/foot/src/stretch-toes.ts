import type { Landmarks } from './landmarks.js';
import type { Mesh } from '@cast-to-last/geometry/mesh';

/** The stretch needs some length to act on, even where the ball line runs close to the toe tip, mm. */
const LEAST_SPAN = 20;

/**
 * The mesh with `allowance` mm added to its length ahead of the ball line: nothing moves behind the line through the two
 * ball points, everything moves along X only, and the toe tip by exactly the allowance. The move grows with a quintic step
 * whose first and second derivatives are 0 at both ends, so the surface joins the ball without a bend and the end of the
 * toes keeps its shape.
 */
export function stretchToes({ positions, triangles }: Mesh, landmarks: Pick<Landmarks, 'medialBall' | 'lateralBall' | 'toeTip'>, allowance: number): Mesh {
  const { medialBall: m, lateralBall: l, toeTip } = landmarks;
  const slope = (l[0] - m[0]) / (l[1] - m[1]);
  const out = positions.slice();
  for (let i = 0; i < out.length; i += 3) {
    const ballLine = Math.min(m[0] + slope * (out[i + 1] - m[1]), toeTip[0] - LEAST_SPAN);
    const t = Math.min(1, (out[i] - ballLine) / (toeTip[0] - ballLine));
    if (t > 0) out[i] += allowance * t * t * t * (10 + t * (6 * t - 15));
  }
  return { positions: out, triangles };
}
