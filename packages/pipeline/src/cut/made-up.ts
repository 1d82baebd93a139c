import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexAreas } from '@cast-to-last/geometry/mesh/quantities';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Point } from '@cast-to-last/foot/landmarks';

export const MADE_UP = {
  /** What repair made counts within this of a gap's edges, mm; from so much of it on, mm², the edge of what was missing may be taken for a cut's. */
  near: 6,
  area: 30,
} as const;

/** Whether repair made much of the surface round a place on a cut, where its edges stand so many mm apart. */
export type MadeUpNear = (at: Point, gap: number) => boolean;

/**
 * @param filled one byte a vertex: 1 where repair made it
 */
export function madeUpNear(mesh: Mesh, filled: Uint8Array): MadeUpNear {
  const made: number[] = [];
  for (let v = filled.indexOf(1); v >= 0; v = filled.indexOf(1, v + 1)) made.push(v);
  if (made.length === 0) return () => false;
  const p = mesh.positions;
  const areas = vertexAreas(mesh);
  return (at, gap) => {
    const near = MADE_UP.near + gap / 2;
    let area = 0;
    for (const v of made) if (length3(p[3 * v] - at[0], p[3 * v + 1] - at[1], p[3 * v + 2] - at[2]) < near) area += areas[v];
    return area >= MADE_UP.area;
  };
}
