import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import { cutByPlane } from '@cast-to-last/geometry/sections/cut-by-plane';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SolidScope } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops, nextHalfedge, NON_MANIFOLD, twins } from '@cast-to-last/geometry/mesh/topology';
import { triangulateLoop } from '@cast-to-last/geometry/repair/triangulate-loop';
import { gather } from '@cast-to-last/geometry/mesh/gather';
import { CastError } from '../../errors.js';
import type { LastBody } from '../last-body.js';
import { carryCone } from './carry-cone.js';
import type { TopCut } from './choose-cut.js';
import type { FlatTop } from './flat-top.js';
import { ringArea } from './smooth-ring.js';
import { onPlane, raisedPlane } from './top-plane.js';
import type { TopPlane } from './top-plane.js';

export interface CutTop {
  /** Closed. */
  readonly mesh: Mesh;
  /** Null where the plane meets the body in several places. */
  readonly top: FlatTop | null;
  /** x, y, z of the cut's edge, before a cone. */
  readonly rim: Float64Array;
  readonly warnings: readonly string[];
}

/** The cut's edge may lie so far ahead of the top line's front point, mm. */
const AHEAD = 3;

/**
 * The body cut by a plane, its cone carried up by `coneMm`, closed flat.
 *
 * @param onePiece refuse a cut that meets the body in several places
 * @throws CastError `top-line-cuts-forefoot`, `top-in-pieces`
 */
export function cutTop(scope: SolidScope, body: LastBody, { plane, frontX }: TopCut, { coneMm, onePiece }: { readonly coneMm: number; readonly onePiece: boolean }): CutTop {
  const open = cutByPlane(body.mesh, plane.normal, plane.offset);
  const edges = cutEdges(open, plane);
  const rim = gather(open.positions, Uint32Array.from(edges.flatMap((loop) => [...loop])));
  if (frontX !== null && rim.some((x, i) => i % 3 === 0 && x > frontX + AHEAD)) throw cutsForefoot();
  // A boundary has the surface on its left, so the flat top on its right.
  const loop = edges[0]?.slice().reverse();
  const outline = loop && onPlane(plane, gather(open.positions, loop));
  if (edges.length !== 1 || ringArea(outline) <= 0) {
    if (onePiece) throw inPieces(edges.length);
    const closed = body.opening === null ? body.mesh : capLoop(body.mesh, body.opening);
    const down = plane.normal.map((c) => -c) as [number, number, number];
    return { mesh: scope.ofMesh(closed).trimByPlane(down, -plane.offset).toMesh(), top: null, rim, warnings: [] };
  }
  if (coneMm === 0) return { mesh: capped(open, loop, plane), top: { plane, outline }, rim, warnings: [] };
  const cone = carryCone(open, loop, plane, coneMm);
  const warnings = cone.turnsWithin > 0 ? [] : ['The cone stands upright on the cut: with the slope of the surface it would cross itself. Look at the edge of the cut, or cut higher.'];
  return { mesh: cone.mesh, top: { plane: raisedPlane(plane, coneMm), outline: cone.outline }, rim, warnings };
}

/** The loops along which a surface that was cut by a plane ends on it. */
function cutEdges(open: Mesh, plane: TopPlane): Uint32Array[] {
  const { positions, triangles: t } = open;
  const on = new Uint8Array(positions.length / 3);
  for (let v = 0; v < on.length; v++) if (onCut(open, plane, v)) on[v] = 1;
  // An edge on the plane has both its ends there, and so has each triangle beside it two corners.
  const beside: number[] = [];
  for (let f = 0; f < t.length; f += 3) if (on[t[f]] + on[t[f + 1]] + on[t[f + 2]] > 1) beside.push(t[f], t[f + 1], t[f + 2]);
  const part: Mesh = { positions, triangles: Uint32Array.from(beside) };
  const twin = twins(part);
  for (let h = 0; h < twin.length; h++) if (on[beside[h]] + on[beside[nextHalfedge(h)]] < 2) twin[h] = NON_MANIFOLD;
  return boundaryLoops(part, twin);
}

const onCut = ({ positions: p }: Mesh, { normal: n, offset }: TopPlane, v: number): boolean => Math.abs(n[0] * p[3 * v] + n[2] * p[3 * v + 2] - offset) < 1e-6;

function capped(open: Mesh, loop: Uint32Array, { normal }: TopPlane): Mesh {
  const points = gather(open.positions, loop);
  const cap = triangulateLoop(points, points.map((_, i) => normal[i % 3])).triangles;
  const triangles = new Uint32Array(open.triangles.length + cap.length);
  triangles.set(open.triangles);
  cap.forEach((i, k) => { triangles[open.triangles.length + k] = loop[i]; });
  return { positions: open.positions, triangles };
}

const cutsForefoot = (): CastError =>
  new CastError(
    'top-line-cuts-forefoot',
    'The plane of the top line, carried on ahead of the instep, cuts the forefoot.',
    'Raise last.top.line.frontMm or lower last.top.line.backMm in the rules, or cut level with last.topHeightMm.',
  );

const inPieces = (pieces: number): CastError =>
  new CastError(
    'top-in-pieces',
    pieces === 0 ? 'The cut of the top does not meet the cast.' : `The cut of the top meets the cast in ${pieces} places, so that there is no one flat top to work on.`,
    'Change last.topHeightMm or last.top.line in the rules so that the cut passes the ankle alone.',
  );
