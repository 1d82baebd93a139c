import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import type { PiecePlan } from './piece.js';
import { distanceToBore } from './piece.js';

/**
 * How far a point is inside a piece, mm, negative outside: from its surface, its cuts and its sockets. Near where two of
 * them meet on the outside it is a bound.
 */
export function insidePiece(field: DistanceGrid, { cuts }: PiecePlan): (p: ArrayLike<number>) => number {
  return (p) => {
    let least = field.at(p[0], p[1], p[2]);
    for (const { face, sockets } of cuts) {
      least = Math.min(least, face.offset - dot(face.normal, p));
      for (const socket of sockets) least = Math.min(least, distanceToBore(socket, p));
    }
    return least;
  };
}
