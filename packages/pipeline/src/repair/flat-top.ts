import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { cross, unit } from '@cast-to-last/geometry/numerics/vectors';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { Facets } from './facets.js';
import { facetsOf } from './facets.js';
import type { Face } from './flat-faces.js';
import { FACE_THICKNESS, flatFaces } from './flat-faces.js';

/**
 * Tells the flat face that closes the top of a cast by its shape: a face on which the cast could lie, full, with an edge from
 * which the surface falls away, and well shorter than the cast, as no sole is. Set on generated feet cut at 55 to 200 mm.
 */
export const FLAT_TOP = {
  /** Least share of the surface in the face, and of its outline that it fills. */
  leastShare: 0.03,
  full: 0.85,
  /** How long the outline is at most over that of the whole cast. */
  length: 0.7,
  /** Below the edge, down to this height over the diagonal, the surface falls away at this angle in the mean round the edge. */
  edge: 0.02,
  steepDeg: 45,
} as const;

/**
 * The unit normal, out of the cast, of the flat face that closes its top; null where no face may be it, or more than one.
 *
 * @param mesh of a whole cast as it was scanned, mm: what thins it out rounds its edges
 */
export function flatTop(mesh: Mesh): readonly number[] | null {
  const facets = facetsOf(mesh);
  const tops = flatFaces(facets, FLAT_TOP.leastShare).filter((face) => isTop(face, mesh, facets));
  return tops.length === 1 ? tops[0].normal : null;
}

/** Whether a face is as full, as short and as sharply bounded as one that a cut leaves. */
function isTop(face: Face, mesh: Mesh, facets: Facets): boolean {
  const d = FLAT_TOP;
  const { normal, inside } = face;
  const u = unit(cross(normal, Math.abs(normal[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0]));
  const v = cross(normal, u);
  // A cap may be a fan of a few long triangles: their corners tell how far it reaches, their middles do not.
  const own = outlineOf(cornersOf(inside, mesh), u, v);
  let area = 0;
  for (const f of inside) area += facets.areas[f];
  if (area < d.full * own.area || own.longest > d.length * outlineOf(mesh.positions, u, v).longest) return false;
  return fallsAway(face, facets);
}

/** x, y, z of the corners of some triangles. */
function cornersOf(some: readonly number[], { positions, triangles }: Mesh): Float64Array {
  const corners = new Float64Array(9 * some.length);
  for (let i = 0, k = 0; i < some.length; i++) {
    for (let h = 3 * some[i]; h < 3 * some[i] + 3; h++) for (let c = 0; c < 3; c++) corners[k++] = positions[3 * triangles[h] + c];
  }
  return corners;
}

/** Whether the surface falls away steeply round the edge of a face. */
function fallsAway({ normal, height }: Face, { positions, middles, normals, areas }: Facets): boolean {
  const x = normal[0];
  const y = normal[1];
  const z = normal[2];
  const size = diagonal(positions);
  const least = FACE_THICKNESS * size;
  const most = FLAT_TOP.edge * size;
  let edge = 0;
  let angles = 0;
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const depth = height - (x * middles[k] + y * middles[k + 1] + z * middles[k + 2]);
    if (depth < least || depth > most) continue;
    // A strip of a given height is the wider the flatter it falls away.
    const angle = Math.acos(Math.max(-1, Math.min(1, x * normals[k] + y * normals[k + 1] + z * normals[k + 2])));
    const along = areas[f] * Math.sin(angle);
    edge += along;
    angles += along * angle;
  }
  return angles >= ((FLAT_TOP.steepDeg * Math.PI) / 180) * edge;
}

/** The convex outline of points, seen at right angles to u and v: its area, and how long it is. */
function outlineOf(points: Float64Array, u: readonly number[], v: readonly number[]): { readonly area: number; readonly longest: number } {
  const { line } = tapeRound(outermost(points, u, v), u, v);
  const a = alongNormal(u, line);
  const b = alongNormal(v, line);
  let area = 0;
  for (let i = 0; i < a.length; i++) {
    const j = (i + 1) % a.length;
    area += (a[i] * b[j] - a[j] * b[i]) / 2;
  }
  let longest = -Infinity;
  for (let k = 0; k < 36; k++) {
    const c = Math.cos((k * Math.PI) / 36);
    const s = Math.sin((k * Math.PI) / 36);
    longest = Math.max(longest, along(a, b, c, s, farthest(a, b, c, s)) - along(a, b, c, s, farthest(a, b, -c, -s)));
  }
  return { area, longest };
}

const along = (a: Float64Array, b: Float64Array, c: number, s: number, i: number): number => c * a[i] + s * b[i];

/** Which of the points (a, b) lies farthest along (c, s). */
function farthest(a: Float64Array, b: Float64Array, c: number, s: number): number {
  let best = 0;
  let most = -Infinity;
  for (let i = 0; i < a.length; i++) {
    const at = c * a[i] + s * b[i];
    if (at <= most) continue;
    most = at;
    best = i;
  }
  return best;
}

/** The points but for most of those that lie inside their outline: those inside the polygon of the farthest in eight directions (Akl and Toussaint). */
function outermost(points: Float64Array, u: readonly number[], v: readonly number[]): Float64Array {
  const a = alongNormal(u, points);
  const b = alongNormal(v, points);
  const corners = new Uint32Array(8);
  for (let k = 0; k < corners.length; k++) corners[k] = farthest(a, b, Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4));
  const polygon = corners.filter((i, k) => i !== corners[(k + 1) % corners.length]);
  const out = new Float64Array(points.length);
  let count = 0;
  for (let i = 0; i < a.length; i++) {
    if (isInside(polygon, a, b, i)) continue;
    out[count++] = points[3 * i];
    out[count++] = points[3 * i + 1];
    out[count++] = points[3 * i + 2];
  }
  return out.subarray(0, count);
}

/** Whether a point lies inside a polygon of points that turns left. */
function isInside(polygon: Uint32Array, a: Float64Array, b: Float64Array, i: number): boolean {
  for (let k = 0, from = polygon[polygon.length - 1]; k < polygon.length; k++) {
    const to = polygon[k];
    if ((a[to] - a[from]) * (b[i] - b[from]) - (b[to] - b[from]) * (a[i] - a[from]) <= 0) return false;
    from = to;
  }
  return polygon.length > 0;
}

/** How far points lie along a unit vector. */
function alongNormal(normal: readonly number[], points: Float64Array): Float64Array {
  const x = normal[0];
  const y = normal[1];
  const z = normal[2];
  const out = new Float64Array(points.length / 3);
  for (let i = 0, k = 0; i < out.length; i++, k += 3) out[i] = x * points[k] + y * points[k + 1] + z * points[k + 2];
  return out;
}
