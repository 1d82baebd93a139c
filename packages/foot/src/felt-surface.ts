import { cellMeans, cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import { rememberedNeighbours, rememberedTwins } from '@cast-to-last/geometry/mesh/remembered-topology';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { Wrapped } from './girths.js';

/** Noise finer than this is taken off before measuring, mm (standard deviation of the blur): a tape does not feel it. */
export const MEASURING_BLUR = 1;

/**
 * Edges shorter than this, mm, are first brought to `spacing`: the blur of a finer mesh would take ever more rounds, and
 * its cells' means take off the noise as well.
 */
export const FINEST_FELT = { edge: 0.75, spacing: 0.9 } as const;

/** What takes the finest noise off a mesh: a linear map of its vertices, so that what moves them is felt as the same map of it. */
export interface FeltFilter extends Pick<Wrapped, 'twin' | 'filled'> {
  readonly triangles: Uint32Array;
  /** Of three numbers for each vertex of the mesh, three for each vertex that is felt. */
  of(values: Float64Array): Float64Array;
}

/**
 * The filter by which a tape feels a mesh. Only for meshes whose triangles are never changed in place.
 *
 * @param edge mean length of the edges; that of the whole mesh where this is a part of one, so that the part feels alike
 */
export function feltFilter(mesh: Mesh, filled: Uint8Array, edge = meanEdgeLength(mesh)): FeltFilter {
  if (edge >= FINEST_FELT.edge) {
    const twin = rememberedTwins(mesh);
    const { triangles } = mesh;
    return { triangles, twin, filled, of: (values) => lowPass({ positions: values, triangles }, MEASURING_BLUR, twin, rememberedNeighbours(mesh), edge).positions };
  }
  const { mesh: even, cellOf } = coarsen(mesh, FINEST_FELT.spacing, rememberedNeighbours(mesh));
  const made = cellsWith(filled, cellOf, even.positions.length / 3);
  const { triangles } = even;
  const twin = twins(even);
  const evenEdge = meanEdgeLength(even);
  const of = (values: Float64Array): Float64Array =>
    lowPass({ positions: cellMeans(values, cellOf, made.length), triangles }, MEASURING_BLUR, twin, rememberedNeighbours(even), evenEdge).positions;
  return { triangles, twin, filled: made, of };
}

/** A surface as a tape feels it, in the coordinates of the mesh; `edge` as for `feltFilter`. */
export function feltSurface(mesh: Mesh, filled: Uint8Array, edge?: number): Wrapped {
  const { triangles, twin, filled: made, of } = feltFilter(mesh, filled, edge);
  return { mesh: { positions: of(mesh.positions), triangles }, twin, filled: made };
}
