import type { Point } from '@cast-to-last/foot/landmarks';
import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { DistanceGrid } from '@cast-to-last/geometry/distance/inner-distance';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import type { PrintRules } from '../rules/making-rules.js';
import { solidOf } from './build-piece.js';
import { drainsFor } from './drains-for.js';
import type { Bore, PiecePlan, Wall } from './piece.js';
import { widened } from './piece.js';

export const HOLLOW = {
  /** Cells of the distance grid for a wall, mm: this share of it, within limits. */
  cellShare: 0.4,
  least: 1.4,
  most: 2,
  /** The hollow is laid deeper by this share of a cell, for what is read between nodes may be that much too great (measured on lasts of generated casts). */
  deeper: 0.18,
  /** No one looks at a hollow: its triangles are made fewer as far as it moves by no more than this, mm. */
  simplify: 0.05,
  /** Where it crosses itself a ball of this many cells is left solid, one more in each round; so many rounds at most. */
  patch: 2.5,
  rounds: 7,
  /** A hollow of less than this is left solid, mm³. */
  smallest: 2000,
  /** Vertices of the hollow at which the wall is measured. */
  measured: 6000,
} as const;

export const cellFor = (wallMm: number): number => Math.min(HOLLOW.most, Math.max(HOLLOW.least, HOLLOW.cellShare * wallMm));

/** What lies deeper inside the last than the wall; where it is too thin for its grid to be drawn without crossing itself it is left out. */
export function hollowOf(scope: SolidScope, field: DistanceGrid, wallMm: number): Solid {
  const level = wallMm + HOLLOW.deeper * field.cell;
  const filled: { readonly at: Point; readonly reach: number }[] = [];
  const inside = (x: number, y: number, z: number): number => filled.reduce((least, { at, reach }) => Math.min(least, level - reach + Math.hypot(x - at[0], y - at[1], z - at[2])), field.at(x, y, z));
  for (let round = 1; ; round++) {
    const fine = scope.levelSet(inside, field.box, field.cell, level);
    const hollow = fine.simplified(HOLLOW.simplify);
    fine.release();
    const crossed = round === HOLLOW.rounds || hollow.isEmpty ? [] : crossings(hollow.toMesh(), field.cell);
    if (crossed.length === 0) return hollow;
    filled.push(...crossed.map((at) => ({ at, reach: (HOLLOW.patch + round - 1) * field.cell })));
    hollow.release();
  }
}

/** Corners of triangles that cross others, none nearer than `apart` to another. */
function crossings(mesh: Mesh, apart: number): Point[] {
  const { positions: p, triangles: t } = mesh;
  const found: Point[] = [];
  selfCrossings(mesh).forEach((crosses, f) => {
    if (crosses === 0) return;
    const v = 3 * t[3 * f];
    if (found.every((q) => Math.hypot(q[0] - p[v], q[1] - p[v + 1], q[2] - p[v + 2]) >= apart)) found.push([p[v], p[v + 1], p[v + 2]]);
  });
  return found;
}

export interface Hollowed {
  readonly solid: Solid;
  readonly drains: readonly Bore[];
  /** Null where nothing was taken out. */
  readonly wall: Wall | null;
  readonly warnings: readonly string[];
}

/**
 * The piece with the wall that the rules ask for on every side, its cuts and sockets too, and drains into every hollow.
 * A hollow that is small, or that no drain reaches, is left solid.
 *
 * @param whole the hollow of the whole last
 */
export function hollowPiece(scope: SolidScope, piece: Solid, plan: PiecePlan, whole: Solid, field: DistanceGrid, rules: PrintRules): Hollowed {
  const { wallMm, drain } = rules;
  let hollow = whole;
  for (const { face } of plan.cuts) hollow = hollow.trimByPlane([-face.normal[0], -face.normal[1], -face.normal[2]], wallMm - face.offset);
  for (const { sockets } of plan.cuts) for (const socket of sockets) hollow = hollow.subtract(solidOf(scope, widened(socket, wallMm)));
  const warnings: string[] = [];
  const drains: Bore[] = [];
  const hollows: Solid[] = [];
  for (const part of hollow.isEmpty ? [] : hollow.decompose()) {
    if (part.volume < HOLLOW.smallest) continue;
    const found = drainsFor(field, plan, part.bounds, wallMm, drain, (bore) => !solidOf(scope, bore).intersect(part).isEmpty);
    if (found.length < drain.count) warnings.push(`The piece "${plan.name}" has room for ${found.length} of ${drain.count} drains of ${drain.diameterMm} mm into a hollow of ${(part.volume / 1000).toFixed(0)} cm³${found.length === 0 ? ', which is left solid' : ''}.`);
    if (found.length === 0) continue;
    drains.push(...found);
    hollows.push(part);
  }
  if (hollows.length === 0) {
    warnings.push(`The piece "${plan.name}" is left solid: no hollow with a wall of ${wallMm} mm has room in it.`);
    return { solid: piece, drains, wall: null, warnings };
  }
  const taken = hollows.reduce((all, part) => all.union(part));
  const wall = measureWall(piece.toMesh(), taken.toMesh(), wallMm, taken.volume);
  const solid = piece.subtract(drains.reduce((all, bore) => all.union(solidOf(scope, bore)), taken));
  return { solid, drains, wall, warnings };
}

/** From points of the hollow to the nearest of the outside. */
function measureWall(outside: Mesh, hollow: Mesh, asked: number, volume: number): Wall {
  const tree = surfaceTree(outside);
  const found = newNearestPoint();
  const step = Math.max(1, Math.floor(vertexCount(hollow) / HOLLOW.measured));
  const walls: number[] = [];
  for (let v = 0; v < vertexCount(hollow); v += step) {
    nearestOnSurface(tree, hollow.positions[3 * v], hollow.positions[3 * v + 1], hollow.positions[3 * v + 2], found);
    walls.push(found.distance);
  }
  walls.sort((a, b) => a - b);
  return { asked, least: walls[0], median: walls[walls.length >> 1], most: walls[walls.length - 1], hollow: volume };
}
