import { legEnd } from '@cast-to-last/foot/leg-end';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Coarsened } from '@cast-to-last/geometry/remeshing/coarsen';
import { cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals, vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';
import { BOUNDARY, twins, vertexNeighbours, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';

/** Vertex spacing at which marks are sought, mm: fine enough for the smallest fingertip, coarse enough to average noise. */
export const INSPECTION_SPACING = 1.5;

/** No mark is sought this near to the ragged edge at the top, this far below a capped top, or below where the leg ends as one, mm. */
const TOP_BAND = 4;
const CAP_BAND = 16;
const END_BAND = 12;

/** Rings of vertices beside what is unsure that are unsure too: a fill meets the scan with a slight edge. */
const FILLED_RINGS = 2;

/** Vertices farther apart than this, mm, cannot show a seam, a cut's edges or a bandage's edge; none is sought. */
export const WIDEST_FOR_LINES = 3.2;

/** The cast at the spacing at which marks are sought, whatever the density of the scan. */
export interface InspectionSurface {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  readonly around: Rows;
  readonly neighbours: Rows;
  readonly normals: Float64Array;
  /** mm² that each vertex stands for. */
  readonly areas: Float64Array;
  /** One byte a vertex: 1 near the edge at the top of the cast or on surface that repair made; no mark is sought there. */
  readonly unsure: Uint8Array;
  /** The coarse vertex of each vertex of the cast. */
  readonly cellOf: Uint32Array;
  /** Mean spacing of the vertices, mm. */
  readonly spacing: number;
  /** By how much marks have moved each vertex along its normal, as the network sees it, mm; absent where it was not asked. */
  readonly learned?: Float32Array;
}

/** @param footLength in mm, where the mesh stands in the foot frame: above the end of its leg no mark is sought */
export function inspectionSurface(cast: Mesh, filled: Uint8Array, capped: boolean, footLength = Infinity): InspectionSurface {
  const { mesh, cellOf }: Coarsened = coarsen(cast, INSPECTION_SPACING, rememberedNeighbours(cast));
  const twin = twins(mesh);
  const around = vertexTriangles(mesh);
  const areas = new Float64Array(vertexCount(mesh));
  const faces = triangleNormals(mesh);
  const unsure = cellsWith(filled, cellOf, areas.length);
  let area = 0;
  for (let h = 0; h < mesh.triangles.length; h++) {
    const f = h - (h % 3);
    const share = length3(faces[f], faces[f + 1], faces[f + 2]) / 6;
    areas[mesh.triangles[h]] += share;
    area += share;
    if (twin[h] === BOUNDARY) unsure[mesh.triangles[h]] = 1;
  }
  markTop(mesh, unsure, capped);
  const end = legEnd(mesh, footLength) - END_BAND;
  for (let v = 0; v < unsure.length; v++) if (mesh.positions[3 * v + 2] > end) unsure[v] = 1;
  const neighbours = vertexNeighbours(mesh, around);
  for (let ring = 0; ring < FILLED_RINGS; ring++) widen(unsure, neighbours);
  return {
    mesh,
    twin,
    around,
    neighbours,
    normals: vertexNormals(mesh),
    areas,
    unsure,
    cellOf,
    spacing: Math.sqrt(area / Math.max(1, areas.length)),
  };
}

/** Takes in the neighbours of what is unsure. */
function widen(unsure: Uint8Array, { offsets, items }: Rows): void {
  const before = unsure.slice();
  for (let v = 0; v < before.length; v++) {
    if (before[v] === 0) continue;
    for (let i = offsets[v]; i < offsets[v + 1]; i++) unsure[items[i]] = 1;
  }
}

/** Marks what lies near the top edge: within TOP_BAND of the boundary or, where the top is capped, of the cast's height. */
function markTop(mesh: Mesh, unsure: Uint8Array, capped: boolean): void {
  const p = mesh.positions;
  const edge: number[] = [];
  let top = -Infinity;
  for (let v = 0; v < unsure.length; v++) {
    if (unsure[v] === 1) edge.push(v);
    top = Math.max(top, p[3 * v + 2]);
  }
  if (capped) {
    for (let v = 0; v < unsure.length; v++) if (p[3 * v + 2] > top - CAP_BAND) unsure[v] = 1;
    return;
  }
  let lowest = Infinity;
  for (const v of edge) lowest = Math.min(lowest, p[3 * v + 2]);
  edge.sort((a, b) => p[3 * a] - p[3 * b]);
  for (let v = 0; v < unsure.length; v++) {
    if (p[3 * v + 2] < lowest - TOP_BAND || unsure[v] === 1) continue;
    if (isNearOne(p, edge, v)) unsure[v] = 1;
  }
}

/** Whether a vertex lies within TOP_BAND of one of `edge`, which is sorted by x. */
function isNearOne(p: Float64Array, edge: readonly number[], v: number): boolean {
  const x = p[3 * v];
  const y = p[3 * v + 1];
  const z = p[3 * v + 2];
  let low = 0;
  for (let high = edge.length; low < high; ) {
    const middle = (low + high) >> 1;
    if (p[3 * edge[middle]] <= x - TOP_BAND) low = middle + 1;
    else high = middle;
  }
  for (let i = low; i < edge.length; i++) {
    const e = 3 * edge[i];
    if (p[e] >= x + TOP_BAND) return false;
    if (Math.abs(p[e + 2] - z) < TOP_BAND && Math.abs(p[e + 1] - y) < TOP_BAND && length3(x - p[e], y - p[e + 1], z - p[e + 2]) < TOP_BAND) return true;
  }
  return false;
}
