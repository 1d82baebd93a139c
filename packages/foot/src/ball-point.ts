import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { fitSplinePatch, pointOnPatch } from '@cast-to-last/geometry/splines/spline-patch';
import type { Point } from './landmarks.js';

export const BALL_POINT = {
  /** The place is read from a smooth surface over this much round the extreme vertex, mm, or this many vertex spacings. */
  reach: 12,
  spacings: 5,
  farthest: 18,
  /** Only what lies no deeper than this inside the extreme is part of it, mm. */
  depth: 6,
  /** How far the place may lie from the extreme vertex, as a share of the reach. */
  slide: 0.7,
  /** Knot spacing as a share of the reach, and stiffness of the surface, mm: a stiffer one moves the place towards the longer flank (generated casts of the tuning range). */
  knots: 1 / 4,
  curlLength: 1.6,
  /** Vertices that the surface needs. */
  leastVertices: 20,
  /** Of shorter feet, mm, all these lengths are smaller in proportion. */
  fullFoot: 200,
} as const;

/**
 * The outermost point of the outline with from ≤ x ≤ to. The outline is flat there, so a single extreme vertex would
 * slide with noise and triangulation: its place is the maximum of a smooth surface through the vertices round it.
 *
 * @param p positions in the foot frame
 * @param spacing of the vertices, mm
 * @param direction +1 for greatest y, −1 for least y
 * @param footLength mm
 * @returns null where nothing lies in the window
 */
export function outermost(p: Float64Array, from: number, to: number, spacing: number, direction: number, footLength: number = BALL_POINT.fullFoot): Point | null {
  const scale = Math.min(1, footLength / BALL_POINT.fullFoot);
  const reach = Math.min(scale * BALL_POINT.farthest, Math.max(scale * BALL_POINT.reach, BALL_POINT.spacings * spacing));
  const depth = scale * BALL_POINT.depth;
  const near: number[] = [];
  let extreme = -1;
  let most = -Infinity;
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i];
    if (x < from - reach || x > to + reach) continue;
    const y = direction * p[i + 1];
    if (y < most - depth) continue;
    near.push(i);
    if (x < from || x > to || y <= most) continue;
    most = y;
    extreme = i;
  }
  if (extreme < 0) return null;
  const vertex: Point = [p[extreme], p[extreme + 1], p[extreme + 2]];
  const round = near.filter((i) => length2(p[i] - vertex[0], p[i + 2] - vertex[2]) <= reach && direction * p[i + 1] > most - depth);
  if (round.length < BALL_POINT.leastVertices) return vertex;
  const flat = new Float64Array(2 * round.length);
  const points = new Float64Array(3 * round.length);
  round.forEach((i, k) => {
    flat[2 * k] = p[i] - vertex[0];
    flat[2 * k + 1] = p[i + 2] - vertex[2];
    for (let c = 0; c < 3; c++) points[3 * k + c] = p[i + c] - vertex[c];
  });
  const weights = new Float64Array(round.length).fill(spacing * spacing);
  const patch = fitSplinePatch(flat, points, weights, { half: reach, spacing: BALL_POINT.knots * reach, bendLength: 0, curlLength: scale * BALL_POINT.curlLength });
  const slide = BALL_POINT.slide * reach;
  const low = Math.max(from - vertex[0], -slide);
  const high = Math.min(to - vertex[0], slide);
  const at = new Float64Array(3);
  let best: Point = vertex;
  let height = -Infinity;
  let u = (low + high) / 2;
  let v = 0;
  // A grid, made finer three times round its best point.
  for (let [stepU, stepV] = [(high - low) / 2, slide]; stepU > 1e-3 && stepV > 1e-3; stepU /= 5, stepV /= 5) {
    const middleU = u;
    const middleV = v;
    for (let a = -10; a <= 10; a++) {
      for (let b = -10; b <= 10; b++) {
        const x = middleU + (stepU * a) / 10;
        const z = middleV + (stepV * b) / 10;
        if (x < low || x > high || Math.abs(z) > slide) continue;
        pointOnPatch(patch, x, z, at);
        if (direction * at[1] <= height) continue;
        height = direction * at[1];
        u = x;
        v = z;
        best = [vertex[0] + at[0], vertex[1] + at[1], vertex[2] + at[2]];
      }
    }
  }
  return best;
}
