import type { StandingCast } from './standing-cast.js';

/** The sole faces down at least this much (cosine) and lies below this share of foot length. */
export const SOLE_PART = { facing: 0.2, ceiling: 0.25 } as const;

/** The vertices of the sole that can be leaned on. */
export function soleVertices({ mesh: { positions: p }, normals, unsure, landmarks }: StandingCast): Uint32Array {
  const out: number[] = [];
  const ceiling = SOLE_PART.ceiling * landmarks.footLength;
  for (let v = 0; 3 * v < p.length; v++) {
    if (normals[3 * v + 2] <= -SOLE_PART.facing && p[3 * v + 2] <= ceiling && unsure[v] === 0) out.push(v);
  }
  return Uint32Array.from(out);
}

/** Those of the vertices with from ≤ x ≤ to. */
export const between = ({ mesh: { positions: p } }: StandingCast, vertices: Uint32Array, from: number, to: number): Uint32Array =>
  vertices.filter((v) => p[3 * v] >= from && p[3 * v] <= to);
