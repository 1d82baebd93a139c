import type { StandingCast } from './standing-cast.js';

/** The sole faces down at least this much (cosine) and lies below this share of foot length. */
export const SOLE_PART = { facing: 0.2, ceiling: 0.25 } as const;

/** One byte a vertex: 1 where the surface faces down and lies low. */
export function soleFlags({ mesh: { positions: p }, normals, landmarks }: Pick<StandingCast, 'mesh' | 'normals' | 'landmarks'>): Uint8Array {
  const ceiling = SOLE_PART.ceiling * landmarks.footLength;
  return Uint8Array.from({ length: p.length / 3 }, (_, v) => (normals[3 * v + 2] <= -SOLE_PART.facing && p[3 * v + 2] <= ceiling ? 1 : 0));
}

/** The vertices of the sole that can be leaned on. */
export function soleVertices(cast: StandingCast): Uint32Array {
  const isSole = soleFlags(cast);
  const out: number[] = [];
  for (let v = 0; v < isSole.length; v++) if (isSole[v] === 1 && cast.unsure[v] === 0) out.push(v);
  return Uint32Array.from(out);
}

/** Those of the vertices with from ≤ x ≤ to. */
export const between = ({ mesh: { positions: p } }: StandingCast, vertices: Uint32Array, from: number, to: number): Uint32Array =>
  vertices.filter((v) => p[3 * v] >= from && p[3 * v] <= to);
