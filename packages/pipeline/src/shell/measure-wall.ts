import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import { cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount, vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import type { RepairedCast, ScanKind, ShelledCast, Wall } from '../records.js';

export const MEASURE_WALL = {
  /** Vertex spacing at which the wall is measured, mm. */
  spacing: 2,
  /** A wall is no thicker, mm; beyond that the other side is missing. */
  thickest: 15,
  /** The outer sheet lies in front of the inner one: cosine between the inner normal and the way to it. */
  ahead: 0.6,
  /** Two scans of one shell are registered and scanned no better than this, mm (common practice, no source). */
  leastUncertainty: 0.1,
} as const;

/** A shell whose two sides were scanned: the inner side as the foot, with the thickness of the wall at each vertex. */
export function measureWall(repaired: RepairedCast, outer: Mesh, kind: ScanKind): ShelledCast {
  const { mesh: coarse, cellOf } = coarsen(repaired.mesh, MEASURE_WALL.spacing);
  const normals = vertexNormals(coarse);
  const made = cellsWith(repaired.filled, cellOf, vertexCount(coarse));
  const tree = surfaceTree(outer);
  const atEdge = trianglesAtEdge(outer);
  const found = newNearestPoint();
  const measured = new Float64Array(made.length).fill(NaN);
  const p = coarse.positions;
  for (let v = 0; v < made.length; v++) {
    const i = 3 * v;
    if (!nearestOnSurface(tree, p[i], p[i + 1], p[i + 2], found, MEASURE_WALL.thickest)) continue;
    const along = [0, 1, 2].reduce((sum, k) => sum + (found.point[k] - p[i + k]) * normals[i + k], 0);
    // Before a hole through the plaster the other side is nearest at the hole's own edge.
    if (made[v] === 1 && atEdge[found.triangle] === 1) continue;
    if (along >= MEASURE_WALL.ahead * found.distance) measured[v] = found.distance;
  }
  // What repair closed in the inner sheet has a wall before it where the scan alone had a hole, and none where the plaster had.
  const wall = medianWall(measured.filter((_, v) => made[v] === 0));
  const warnings = [...repaired.warnings];
  if (wall !== null) {
    const booked = kind === 'outside' ? ', though it was booked in as a scan of the outside' : '';
    warnings.push(`The scan shows both sides of the shell${booked}; the inner one is the foot, and the wall was measured: ${wall.mm.toFixed(1)} mm.`);
  }
  return { ...repaired, warnings, wall, offsetUncertainty: 0, thickness: Float64Array.from(cellOf, (c) => measured[c]) };
}

/** One byte a triangle: 1 where it has a corner on the boundary. */
function trianglesAtEdge(mesh: Mesh): Uint8Array {
  const onEdge = new Uint8Array(vertexCount(mesh));
  for (const loop of boundaryLoops(mesh)) for (const v of loop) onEdge[v] = 1;
  return Uint8Array.from({ length: triangleCount(mesh) }, (_, t) => (onEdge[mesh.triangles[3 * t]] | onEdge[mesh.triangles[3 * t + 1]] | onEdge[mesh.triangles[3 * t + 2]]));
}

/** The median thickness; its uncertainty is that of the median, not how much the wall differs over the shell. */
function medianWall(measured: Float64Array): Wall | null {
  const sorted = measured.filter((x) => !Number.isNaN(x)).sort();
  if (sorted.length === 0) return null;
  const quantile = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  const spread = (quantile(0.75) - quantile(0.25)) / 1.349;
  // The wall changes slowly: places within some centimetres tell the same, so the shell counts as a few dozen of them.
  return { mm: quantile(0.5), how: 'measured', uncertainty: Math.hypot(MEASURE_WALL.leastUncertainty, (1.96 * 1.2533 * spread) / Math.sqrt(30)) };
}
