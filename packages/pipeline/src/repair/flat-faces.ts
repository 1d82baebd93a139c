import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { dot, unit } from '@cast-to-last/geometry/numerics/vectors';
import type { Facets } from './facets.js';
import { facesNear } from './facets.js';

export const FLAT_FACES = {
  /** How many of the directions that most of the surface faces are looked at. */
  directions: 8,
  /** The direction is taken anew from the triangles that face within these angles of it, degrees, one after the other. */
  narrowing: [16, 10, 6, 4],
  /** Triangles belong to a face within this angle, degrees, and these distances over the diagonal: its direction is taken anew from those in it. */
  angleDeg: 25,
  thinning: [0.012, 0.006, 0.003],
} as const;

/** A face on which the cast could lie. */
export interface Face {
  /** Unit normal, out of the cast. */
  readonly normal: readonly number[];
  /** How far out along the normal the farthest vertex lies, mm: depths are counted from there. */
  readonly height: number;
  /** The triangles in it. */
  readonly inside: readonly number[];
}

/** How near to a face's plane what belongs to it lies, over the diagonal. */
export const FACE_THICKNESS = FLAT_FACES.thinning[FLAT_FACES.thinning.length - 1];

/** The faces on which a body could lie, each with at least `leastShare` of the surface in it, among the directions that most of it faces. */
export function flatFaces(facets: Facets, leastShare: number): Face[] {
  const size = diagonal(facets.positions);
  const another = Math.cos((FLAT_FACES.angleDeg * Math.PI) / 180);
  const seen: (readonly number[])[] = [];
  const found: Face[] = [];
  for (const direction of commonDirections(facets)) {
    const normal = mostFaced(direction, facets);
    if (seen.some((other) => dot(other, normal) > another)) continue;
    const face = faceTowards(normal, facets, size, leastShare);
    if (face === null) continue;
    seen.push(normal);
    found.push(face);
  }
  return found;
}

/** The directions that most of the surface faces. */
function commonDirections({ sums }: Facets): number[][] {
  const cells = Array.from({ length: sums.length / 4 }, (_, b) => 4 * b).filter((b) => sums[b + 3] > 0);
  cells.sort((a, b) => sums[b + 3] - sums[a + 3] || a - b);
  return cells.slice(0, FLAT_FACES.directions).map((b) => unit(Array.from(sums.subarray(b, b + 3))));
}

/** The direction near the given one that most of the surface faces. */
function mostFaced(direction: readonly number[], facets: Facets): readonly number[] {
  let normal = direction;
  for (const degrees of FLAT_FACES.narrowing) {
    const sum = facedSum(facets, facesNear(facets, normal, (degrees * Math.PI) / 180));
    if (sum.every((c) => c === 0)) break;
    normal = unit(sum);
  }
  return normal;
}

/** The sum of the normals of some triangles by area. */
function facedSum({ normals, areas }: Facets, some: ArrayLike<number>): number[] {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = 0; i < some.length; i++) {
    const f = some[i];
    x += areas[f] * normals[3 * f];
    y += areas[f] * normals[3 * f + 1];
    z += areas[f] * normals[3 * f + 2];
  }
  return [x, y, z];
}

/** The face that lies farthest out near a direction, whose normal is taken anew from what lies in it; null where too little does. */
function faceTowards(direction: readonly number[], facets: Facets, size: number, leastShare: number): Face | null {
  const d = FLAT_FACES;
  let normal = direction;
  let face: Face | null = null;
  for (const thickness of d.thinning) {
    const height = farthestOut(normal, facets.positions);
    const inside = shallow(facesNear(facets, normal, (d.angleDeg * Math.PI) / 180), normal, height, facets.middles, thickness * size);
    let area = 0;
    for (const f of inside) area += facets.areas[f];
    if (area < leastShare * facets.total) return null;
    face = { normal, height, inside };
    normal = unit(facedSum(facets, inside));
  }
  return face;
}

/** Those of some triangles whose middle lies at most so deep below a height. */
function shallow(some: Uint32Array, [x, y, z]: readonly number[], height: number, middles: Float64Array, deepest: number): number[] {
  const inside: number[] = [];
  for (let i = 0; i < some.length; i++) {
    const k = 3 * some[i];
    if (height - (x * middles[k] + y * middles[k + 1] + z * middles[k + 2]) <= deepest) inside.push(some[i]);
  }
  return inside;
}

/** How far along a unit vector the farthest point lies. */
function farthestOut([x, y, z]: readonly number[], p: Float64Array): number {
  let most = -Infinity;
  for (let v = 0; v < p.length; v += 3) {
    const along = x * p[v] + y * p[v + 1] + z * p[v + 2];
    if (along > most) most = along;
  }
  return most;
}
