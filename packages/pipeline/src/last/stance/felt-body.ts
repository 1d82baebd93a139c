import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import { surfaceAtVertices } from '@cast-to-last/foot/position/standing-cast';
import { cellMeans, cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody } from '../last-body.js';

/** Vertex spacing of the surface that the stance is read from, mm: that of the cast check. */
const SPACING = 2;

/** A body as its stance is read from it: noise taken off, vertices about 2 mm apart. */
export interface FeltBody extends StandingCast {
  /** For each vertex of the body the vertex of this surface in whose cell it lies. */
  readonly cellOf: Uint32Array;
  /** One byte a vertex: 1 where repair made it. */
  readonly filled: Uint8Array;
}

export function feltBody({ mesh: fine, filled: made, landmarks, side }: LastBody): FeltBody {
  const { mesh, cellOf } = coarsen(fine, SPACING, rememberedNeighbours(fine));
  const filled = cellsWith(made, cellOf, mesh.positions.length / 3);
  return { mesh, cellOf, filled, twin: twins(mesh), side, landmarks, ...surfaceAtVertices(mesh), unsure: filled, wholeTo: Infinity };
}

/** The same surface of the same triangles after the body's vertices were moved: each vertex is again the mean of its cell. */
export function feltAgain(before: FeltBody, moved: Pick<LastBody, 'mesh' | 'landmarks'>): FeltBody {
  const mesh = { positions: cellMeans(moved.mesh.positions, before.cellOf, before.filled.length), triangles: before.mesh.triangles };
  return { ...before, mesh, landmarks: moved.landmarks, ...surfaceAtVertices(mesh) };
}
