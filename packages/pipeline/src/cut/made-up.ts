import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
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
export function madeUpNear({ positions: p, triangles: t }: Mesh, filled: Uint8Array): MadeUpNear {
  const made: { middle: Point; area: number }[] = [];
  if (filled.includes(1)) {
    const normals = triangleNormals({ positions: p, triangles: t });
    for (let f = 0; f < t.length; f += 3) {
      const [a, b, c] = t.subarray(f, f + 3);
      if (filled[a] + filled[b] + filled[c] === 0) continue;
      const mean = (k: number): number => (p[3 * a + k] + p[3 * b + k] + p[3 * c + k]) / 3;
      made.push({ middle: [mean(0), mean(1), mean(2)], area: length3(normals[f], normals[f + 1], normals[f + 2]) / 2 });
    }
  }
  return (at, gap) => {
    const near = MADE_UP.near + gap / 2;
    let area = 0;
    for (const one of made) if (length3(...at.map((c, k) => c - one.middle[k]) as [number, number, number]) < near) area += one.area;
    return area >= MADE_UP.area;
  };
}
