import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** The first of the vertices that lie nearest to a place, and how far from it, mm; −1 and Infinity where there is none. */
export function nearestVertex({ positions: p }: Mesh, vertices: Iterable<number>, place: ArrayLike<number>): { readonly vertex: number; readonly away: number } {
  let vertex = -1;
  let away = Infinity;
  for (const v of vertices) {
    const d = Math.hypot(p[3 * v] - place[0], p[3 * v + 1] - place[1], p[3 * v + 2] - place[2]);
    if (!(d < away)) continue;
    away = d;
    vertex = v;
  }
  return { vertex, away };
}
