import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { cross, unit } from '@cast-to-last/geometry/numerics/vectors';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { Face, Facets } from './flat-faces.js';
import { FACE_THICKNESS, alongNormal, facetsOf, flatFaces, middleOf } from './flat-faces.js';

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
  const tops = flatFaces(mesh, facets, FLAT_TOP.leastShare).filter((face) => isTop(face, mesh, facets));
  return tops.length === 1 ? tops[0].normal : null;
}

/** Whether a face is as full, as short and as sharply bounded as one that a cut leaves. */
function isTop({ normal, depths, inside }: Face, { positions, triangles }: Mesh, { normals, areas }: Facets): boolean {
  const d = FLAT_TOP;
  const u = unit(cross(normal, Math.abs(normal[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0]));
  const v = cross(normal, u);
  // A cap may be a fan of a few long triangles: their corners tell how far it reaches, their middles do not.
  const corners = inside.flatMap((f) => Array.from(triangles.subarray(3 * f, 3 * f + 3)));
  const own = outlineOf(Float64Array.from(corners.flatMap((c) => Array.from(positions.subarray(3 * c, 3 * c + 3)))), u, v);
  if (inside.reduce((sum, f) => sum + areas[f], 0) < d.full * own.area || own.longest > d.length * outlineOf(positions, u, v).longest) return false;
  const cosines = alongNormal(normal, normals);
  const size = diagonal(positions);
  let edge = 0;
  let angles = 0;
  for (let f = 0; f < areas.length; f++) {
    const depth = middleOf(depths, triangles, f);
    if (depth < FACE_THICKNESS * size || depth > d.edge * size) continue;
    // A strip of a given height is the wider the flatter it falls away.
    const angle = Math.acos(Math.max(-1, Math.min(1, cosines[f])));
    const along = areas[f] * Math.sin(angle);
    edge += along;
    angles += along * angle;
  }
  return angles >= ((d.steepDeg * Math.PI) / 180) * edge;
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
