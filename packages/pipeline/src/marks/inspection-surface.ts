import type { Coarsened } from '@cast-to-last/geometry/coarsen';
import { coarsen } from '@cast-to-last/geometry/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh';
import { triangleNormals, vertexNormals } from '@cast-to-last/geometry/quantities';
import type { Rows } from '@cast-to-last/geometry/topology';
import { BOUNDARY, twins, vertexNeighbours, vertexTriangles } from '@cast-to-last/geometry/topology';

/** Vertex spacing at which marks are sought, mm: fine enough for the smallest fingertip, coarse enough to average noise. */
export const INSPECTION_SPACING = 1.5;

/** The cast at the spacing at which marks are sought, whatever the density of the scan. */
export interface InspectionSurface {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  readonly around: Rows;
  readonly neighbours: Rows;
  readonly normals: Float64Array;
  /** mm² that each vertex stands for. */
  readonly areas: Float64Array;
  /** One byte a vertex: 1 on the scan's boundary or on surface that repair made. */
  readonly unsure: Uint8Array;
  /** The coarse vertex of each vertex of the cast. */
  readonly cellOf: Uint32Array;
  /** Mean spacing of the vertices, mm. */
  readonly spacing: number;
}

export function inspectionSurface(cast: Mesh, filled: Uint8Array): InspectionSurface {
  const { mesh, cellOf }: Coarsened = coarsen(cast, INSPECTION_SPACING);
  const twin = twins(mesh);
  const around = vertexTriangles(mesh);
  const areas = new Float64Array(vertexCount(mesh));
  const faces = triangleNormals(mesh);
  const unsure = new Uint8Array(areas.length);
  let area = 0;
  for (let h = 0; h < mesh.triangles.length; h++) {
    const f = h - (h % 3);
    const share = Math.hypot(faces[f], faces[f + 1], faces[f + 2]) / 6;
    areas[mesh.triangles[h]] += share;
    area += share;
    if (twin[h] === BOUNDARY) unsure[mesh.triangles[h]] = 1;
  }
  for (let v = 0; v < cellOf.length; v++) if (filled[v] === 1) unsure[cellOf[v]] = 1;
  return {
    mesh,
    twin,
    around,
    neighbours: vertexNeighbours(mesh, around),
    normals: vertexNormals(mesh),
    areas,
    unsure,
    cellOf,
    spacing: Math.sqrt(area / Math.max(1, areas.length)),
  };
}
