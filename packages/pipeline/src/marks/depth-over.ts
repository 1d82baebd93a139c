import type { FoundMark } from './found-mark.js';
import type { InspectionSurface } from './inspection-surface.js';

/** How far a vertex of the surface stands off the same vertex of what takes its place, along that one's normal, mm. */
export function heightOver({ mesh: { positions: q }, normals }: InspectionSurface, { mesh: { positions: p } }: InspectionSurface, v: number): number {
  let over = 0;
  for (let k = 3 * v; k < 3 * v + 3; k++) over += normals[k] * (p[k] - q[k]);
  return over;
}

/**
 * How far a mark stands off the surface that takes its place: signed extreme height along that surface's normals, mm; 0
 * where it nowhere stands off to its own side.
 *
 * @param clean the inspection surface without its marks, vertex by vertex as `surface`
 */
export function depthOver(clean: InspectionSurface, surface: InspectionSurface, { vertices, depth }: Pick<FoundMark, 'vertices' | 'depth'>): number {
  const sign = Math.sign(depth);
  let most = 0;
  for (const v of vertices) most = Math.max(most, sign * heightOver(clean, surface, v));
  return sign * most;
}
