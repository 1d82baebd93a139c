import type { Pieces } from '@cast-to-last/geometry/mesh/components';

export const SECOND_BODY = {
  /** A piece with at least this share of the area of the largest may be another cast … */
  share: 0.35,
  /** … where its surface closes round it: its triangles, weighed by area, face one way by at most this share. A half has 0.4 or more, a cast open at the top 0.1. */
  oneWay: 0.25,
} as const;

/**
 * Which of the pieces `among` close round a body, but for an opening. The triangles of each must face consistently.
 *
 * @param normals of the triangles, times twice their area
 * @param areas of the pieces
 */
export function bodies(normals: Float64Array, { piece }: Pieces, areas: Float64Array, among: readonly number[]): number[] {
  const sums = new Map(among.map((i) => [i, [0, 0, 0]]));
  for (let t = 0; t < piece.length; t++) {
    const sum = sums.get(piece[t]);
    if (sum === undefined) continue;
    for (let k = 0; k < 3; k++) sum[k] += normals[3 * t + k] / 2;
  }
  return among.filter((i) => Math.hypot(...(sums.get(i) ?? [])) <= SECOND_BODY.oneWay * areas[i]);
}
