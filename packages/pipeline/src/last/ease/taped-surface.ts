import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import type { LastBody } from '../last-body.js';

/** How far ahead of the ball's points, and over the instep, the surface reaches that tapes can lie on, mm. */
const AHEAD = 25;
const ABOVE = 45;

/**
 * The part of a body that tapes round ball, waist and instep lie on, as they feel it: toes and leg take no part. On it the
 * shortest tapes are those on the whole body, for a plane that goes up the leg gives a long one.
 *
 * @returns the same part, with the body's own vertices, for any positions of them
 */
export function tapedSurface({ mesh: { positions: p, triangles: t }, filled, landmarks: { medialBall, lateralBall, instep } }: LastBody): (positions: Float64Array) => Wrapped {
  const front = Math.max(medialBall[0], lateralBall[0]) + AHEAD;
  const top = instep === null ? Infinity : instep[2] + ABOVE;
  const part = new Uint32Array(t.length);
  let size = 0;
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    if (p[a] > front || p[b] > front || p[c] > front || p[a + 2] > top || p[b + 2] > top || p[c + 2] > top) continue;
    for (let k = f; k < f + 3; k++) part[size++] = t[k];
  }
  const triangles = part.slice(0, size);
  const edge = meanEdgeLength({ positions: p, triangles: t });
  return (positions) => feltSurface({ positions, triangles }, filled, edge);
}
