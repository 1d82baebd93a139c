import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { InspectionSurface } from './inspection-surface.js';

/** Straight distance of two vertices, mm. */
export const apart = ({ positions: p }: Mesh, a: number, b: number): number => Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);

/** Vertices spread over a set, from one of them on, so that every one of the set lies within `reach` mm of one of them. */
export function spreadAlong(surface: InspectionSurface, vertices: Uint32Array, reach: number, from: number = vertices[0]): number[] {
  const chosen: number[] = [];
  const away = new Float64Array(vertices.length).fill(Infinity);
  let next = from;
  for (;;) {
    chosen.push(next);
    let far = 0;
    for (let i = 0; i < away.length; i++) {
      away[i] = Math.min(away[i], apart(surface.mesh, vertices[i], next));
      if (away[i] > away[far]) far = i;
    }
    if (away[far] <= reach || chosen.length > vertices.length) return chosen;
    next = vertices[far];
  }
}
