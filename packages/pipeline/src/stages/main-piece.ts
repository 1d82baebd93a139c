import { connectedPieces, keepTriangles, pieceAreas } from '@cast-to-last/geometry/components';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { sampleSurface } from '@cast-to-last/geometry/sample-surface';
import { twins } from '@cast-to-last/geometry/topology';
import { weld } from '@cast-to-last/geometry/weld';
import { NOT_A_FOOT, thickness } from './not-a-foot.js';

export const MAIN_PIECE = {
  /** How many pieces are looked at, and the least share of the greatest area that they must have. */
  candidates: 4,
  leastShare: 0.05,
  samples: 2000,
} as const;

/** The connected piece with the greatest area that is no flat patch of table; the greatest of all where all are flat. */
export function mainPiece(mesh: Mesh): Mesh {
  const welded = weld(mesh).mesh;
  const twin = twins(welded);
  const pieces = connectedPieces(twin);
  const areas = pieceAreas(welded, pieces);
  const cut = (piece: number): Mesh => {
    const keep = new Uint8Array(pieces.piece.length);
    for (let t = 0; t < keep.length; t++) keep[t] = pieces.piece[t] === piece ? 1 : 0;
    return { positions: welded.positions, triangles: keepTriangles(welded.triangles, twin, keep).triangles };
  };
  const order = Uint32Array.from(areas, (_, i) => i).sort((a, b) => areas[b] - areas[a]);
  const greatest = cut(order[0]);
  for (const piece of order.subarray(0, MAIN_PIECE.candidates)) {
    if (areas[piece] < MAIN_PIECE.leastShare * areas[order[0]]) break;
    const candidate = piece === order[0] ? greatest : cut(piece);
    if (thickness(sampleSurface(candidate, MAIN_PIECE.samples).points) >= NOT_A_FOOT.flatThickness) return candidate;
  }
  return greatest;
}
