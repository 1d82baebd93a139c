import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { Place } from '@cast-to-last/pipeline/marks/places';

/** A place at the vertex nearest to a point, mm. */
export function placeAt({ mesh: { positions: p }, areas }: InspectionSurface, point: readonly number[], radius: number, height: number): Omit<Place, 'vertices'> {
  const away = (v: number): number => Math.hypot(...point.map((c, k) => c - p[3 * v + k]));
  let vertex = 0;
  for (let v = 1; v < areas.length; v++) if (away(v) < away(vertex)) vertex = v;
  return { vertex, radius, height };
}
