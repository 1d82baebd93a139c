import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import { turnedBody } from '@cast-to-last/geometry/solids/turned-body';
import type { Bore, PiecePlan } from './piece.js';

/** Corners round a pin. */
export const SIDES = 48;

export const solidOf = (scope: SolidScope, { origin, axis, profile }: Bore): Solid => scope.ofMesh(turnedBody(origin, axis, profile, SIDES));

/** The piece that a plan asks for, solid. Empty where the cuts leave nothing. */
export function buildPiece(scope: SolidScope, last: Solid, plan: PiecePlan): Solid {
  let piece = last;
  const next = (solid: Solid): void => {
    if (piece !== last) piece.release();
    piece = solid;
  };
  for (const { face, pins, sockets } of plan.cuts) {
    next(piece.trimByPlane([-face.normal[0], -face.normal[1], -face.normal[2]], -face.offset));
    for (const pin of pins) next(piece.union(solidOf(scope, pin).intersect(last)));
    for (const socket of sockets) next(piece.subtract(solidOf(scope, socket)));
  }
  return piece;
}
