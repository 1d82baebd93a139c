import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { cross, dot, unit } from '@cast-to-last/geometry/numerics/vectors';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';

/**
 * Tells the flat face that closes the top of a cast by its shape: a face on which the cast could lie, full, with an edge from
 * which the surface falls away, and well shorter than the cast, as no sole is. Set on generated feet cut at 55 to 200 mm.
 */
export const FLAT_TOP = {
  /** Cells along a side of the cube on which directions are counted, and how many of the fullest are looked at. */
  cells: 8,
  directions: 8,
  /** The direction is taken anew from the triangles that face within these angles of it, degrees, one after the other. */
  narrowing: [16, 10, 6, 4],
  /** Triangles belong to a face within this angle, degrees, and these distances over the diagonal: its direction is taken anew from those in it. */
  angleDeg: 25,
  thinning: [0.012, 0.006, 0.003],
  /** Least share of the surface in the face, and of its outline that it fills. */
  leastShare: 0.03,
  full: 0.85,
  /** How long the outline is at most over that of the whole cast. */
  length: 0.7,
  /** Below the edge, down to this height over the diagonal, the surface falls away at this angle in the mean round the edge. */
  edge: 0.02,
  steepDeg: 45,
} as const;

/** Unit normal and area of each triangle. */
interface Facets {
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  readonly total: number;
}

/** A face on which the cast could lie. */
interface Face {
  /** Unit normal, out of the cast. */
  readonly normal: readonly number[];
  /** How far each vertex lies below it, mm. */
  readonly depths: Float64Array;
  /** The triangles in it. */
  readonly inside: readonly number[];
}

/**
 * The unit normal, out of the cast, of the flat face that closes its top; null where no face may be it, or more than one.
 *
 * @param mesh of a whole cast as it was scanned, mm: what thins it out rounds its edges
 */
export function flatTop(mesh: Mesh): readonly number[] | null {
  const facets = facetsOf(mesh);
  const size = diagonal(mesh.positions);
  const another = Math.cos((FLAT_TOP.angleDeg * Math.PI) / 180);
  const found: Face[] = [];
  for (const direction of commonDirections(facets)) {
    const normal = mostFaced(direction, facets);
    if (found.some((other) => dot(other.normal, normal) > another)) continue;
    const face = faceTowards(normal, mesh, facets, size);
    if (face !== null && isTop(face, mesh, facets, size)) found.push(face);
  }
  return found.length === 1 ? found[0].normal : null;
}

function facetsOf(mesh: Mesh): Facets {
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
  const { cells, directions } = FLAT_TOP;
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
  for (const degrees of FLAT_TOP.narrowing) {
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
function faceTowards(direction: readonly number[], { positions, triangles }: Mesh, { normals, areas, total }: Facets, size: number): Face | null {
  const d = FLAT_TOP;
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
    if (area < d.leastShare * total) return null;
    face = { normal, depths, inside };
    normal = unit(sum);
  }
  return face;
}

/** Whether a face is as full, as short and as sharply bounded as one that a cut leaves. */
function isTop({ normal, depths, inside }: Face, { positions, triangles }: Mesh, { normals, areas }: Facets, size: number): boolean {
  const d = FLAT_TOP;
  const u = unit(cross(normal, Math.abs(normal[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0]));
  const v = cross(normal, u);
  // A cap may be a fan of a few long triangles: their corners tell how far it reaches, their middles do not.
  const corners = inside.flatMap((f) => Array.from(triangles.subarray(3 * f, 3 * f + 3)));
  const own = outlineOf(Float64Array.from(corners.flatMap((c) => Array.from(positions.subarray(3 * c, 3 * c + 3)))), u, v);
  if (inside.reduce((sum, f) => sum + areas[f], 0) < d.full * own.area || own.longest > d.length * outlineOf(positions, u, v).longest) return false;
  const cosines = alongNormal(normal, normals);
  const within = d.thinning[d.thinning.length - 1] * size;
  let edge = 0;
  let angles = 0;
  for (let f = 0; f < areas.length; f++) {
    const depth = middleOf(depths, triangles, f);
    if (depth < within || depth > d.edge * size) continue;
    // A strip of a given height is the wider the flatter it falls away.
    const angle = Math.acos(Math.max(-1, Math.min(1, cosines[f])));
    const along = areas[f] * Math.sin(angle);
    edge += along;
    angles += along * angle;
  }
  return angles >= ((d.steepDeg * Math.PI) / 180) * edge;
}

/** The mean of a value at the three corners of a triangle. */
const middleOf = (values: Float64Array, triangles: Uint32Array, f: number): number =>
  (values[triangles[3 * f]] + values[triangles[3 * f + 1]] + values[triangles[3 * f + 2]]) / 3;

/** How far points lie along a unit vector. */
function alongNormal(normal: readonly number[], points: Float64Array): Float64Array {
  const out = new Float64Array(points.length / 3);
  for (let i = 0, k = 0; i < out.length; i++, k += 3) out[i] = normal[0] * points[k] + normal[1] * points[k + 1] + normal[2] * points[k + 2];
  return out;
}

/** The convex outline of points, seen at right angles to u and v: its area, and how long and how wide it is. */
function outlineOf(points: Float64Array, u: readonly number[], v: readonly number[]): { readonly area: number; readonly longest: number; readonly shortest: number } {
  const { line } = tapeRound(points, u, v);
  const [a, b] = [alongNormal(u, line), alongNormal(v, line)];
  let area = 0;
  for (let i = 0; i < a.length; i++) {
    const j = (i + 1) % a.length;
    area += (a[i] * b[j] - a[j] * b[i]) / 2;
  }
  const widths = Array.from({ length: 36 }, (_, k) => {
    const [c, s] = [Math.cos((k * Math.PI) / 36), Math.sin((k * Math.PI) / 36)];
    const at = a.map((x, i) => c * x + s * b[i]);
    return Math.max(...at) - Math.min(...at);
  });
  return { area, longest: Math.max(...widths), shortest: Math.min(...widths) };
}
