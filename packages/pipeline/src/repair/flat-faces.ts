import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { dot, unit } from '@cast-to-last/geometry/numerics/vectors';

export const FLAT_FACES = {
  /** Cells along a side of the cube on which directions are counted, and how many of the fullest are looked at. */
  cells: 8,
  directions: 8,
  /** The direction is taken anew from the triangles that face within these angles of it, degrees, one after the other. */
  narrowing: [16, 10, 6, 4],
  /** Triangles belong to a face within this angle, degrees, and these distances over the diagonal: its direction is taken anew from those in it. */
  angleDeg: 25,
  thinning: [0.012, 0.006, 0.003],
} as const;

/** Unit normal and area of each triangle. */
export interface Facets {
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  readonly total: number;
}

/** A face on which the cast could lie. */
export interface Face {
  /** Unit normal, out of the cast. */
  readonly normal: readonly number[];
  /** How far each vertex lies below it, mm. */
  readonly depths: Float64Array;
  /** The triangles in it. */
  readonly inside: readonly number[];
}

/** How near to a face's plane what belongs to it lies, over the diagonal. */
export const FACE_THICKNESS = FLAT_FACES.thinning[FLAT_FACES.thinning.length - 1];

/** The faces on which a body could lie, each with at least `leastShare` of the surface in it, among the directions that most of it faces. */
export function flatFaces(mesh: Mesh, facets: Facets, leastShare: number): Face[] {
  const size = diagonal(mesh.positions);
  const another = Math.cos((FLAT_FACES.angleDeg * Math.PI) / 180);
  const seen: (readonly number[])[] = [];
  const found: Face[] = [];
  for (const direction of commonDirections(facets)) {
    const normal = mostFaced(direction, facets);
    if (seen.some((other) => dot(other, normal) > another)) continue;
    const face = faceTowards(normal, mesh, facets, size, leastShare);
    if (face === null) continue;
    seen.push(normal);
    found.push(face);
  }
  return found;
}

export function facetsOf(mesh: Mesh): Facets {
  const normals = triangleNormals(mesh);
  const areas = new Float64Array(normals.length / 3);
  let total = 0;
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const twice = length3(normals[k], normals[k + 1], normals[k + 2]);
    areas[f] = twice / 2;
    total += areas[f];
    const scale = twice > 0 ? 1 / twice : 0;
    normals[k] *= scale;
    normals[k + 1] *= scale;
    normals[k + 2] *= scale;
  }
  return { normals, areas, total };
}

/** The directions that most of the surface faces, counted on the sides of a cube. */
function commonDirections({ normals, areas }: Facets): number[][] {
  const { cells, directions } = FLAT_FACES;
  const sums = new Float64Array(4 * 6 * cells * cells);
  const place = (ratio: number): number => Math.min(cells - 1, Math.floor(((ratio + 1) / 2) * cells));
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const [x, y, z] = [Math.abs(normals[k]), Math.abs(normals[k + 1]), Math.abs(normals[k + 2])];
    const axis = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
    const most = Math.max(x, y, z);
    if (most === 0) continue;
    const side = 2 * axis + (normals[k + axis] > 0 ? 1 : 0);
    const bin = 4 * ((side * cells + place(normals[k + ((axis + 1) % 3)] / most)) * cells + place(normals[k + ((axis + 2) % 3)] / most));
    for (let c = 0; c < 3; c++) sums[bin + c] += areas[f] * normals[k + c];
    sums[bin + 3] += areas[f];
  }
  const bins = Array.from({ length: sums.length / 4 }, (_, b) => 4 * b).filter((b) => sums[b + 3] > 0);
  bins.sort((a, b) => sums[b + 3] - sums[a + 3] || a - b);
  return bins.slice(0, directions).map((b) => unit(Array.from(sums.subarray(b, b + 3))));
}

/** The direction near the given one that most of the surface faces. */
function mostFaced(direction: readonly number[], { normals, areas }: Facets): readonly number[] {
  let normal = direction;
  for (const degrees of FLAT_FACES.narrowing) {
    const cosines = alongNormal(normal, normals);
    const least = Math.cos((degrees * Math.PI) / 180);
    const sum = [0, 0, 0];
    for (let f = 0; f < areas.length; f++) {
      if (cosines[f] < least) continue;
      for (let k = 0; k < 3; k++) sum[k] += areas[f] * normals[3 * f + k];
    }
    if (sum.every((c) => c === 0)) break;
    normal = unit(sum);
  }
  return normal;
}

/** The face that lies farthest out near a direction, whose normal is taken anew from what lies in it; null where too little does. */
function faceTowards(direction: readonly number[], { positions, triangles }: Mesh, { normals, areas, total }: Facets, size: number, leastShare: number): Face | null {
  const d = FLAT_FACES;
  const facing = Math.cos((d.angleDeg * Math.PI) / 180);
  let normal = direction;
  let face: Face | null = null;
  for (const thickness of d.thinning) {
    const along = alongNormal(normal, positions);
    const height = along.reduce((most, h) => Math.max(most, h), -Infinity);
    const depths = along.map((h) => height - h);
    const cosines = alongNormal(normal, normals);
    const inside: number[] = [];
    const sum = [0, 0, 0];
    let area = 0;
    for (let f = 0; f < areas.length; f++) {
      if (cosines[f] < facing || middleOf(depths, triangles, f) > thickness * size) continue;
      inside.push(f);
      area += areas[f];
      for (let k = 0; k < 3; k++) sum[k] += areas[f] * normals[3 * f + k];
    }
    if (area < leastShare * total) return null;
    face = { normal, depths, inside };
    normal = unit(sum);
  }
  return face;
}

/** The mean of a value at the three corners of a triangle. */
export const middleOf = (values: Float64Array, triangles: Uint32Array, f: number): number =>
  (values[triangles[3 * f]] + values[triangles[3 * f + 1]] + values[triangles[3 * f + 2]]) / 3;

/** How far points lie along a unit vector. */
export function alongNormal(normal: readonly number[], points: Float64Array): Float64Array {
  const out = new Float64Array(points.length / 3);
  for (let i = 0, k = 0; i < out.length; i++, k += 3) out[i] = normal[0] * points[k] + normal[1] * points[k + 1] + normal[2] * points[k + 2];
  return out;
}
