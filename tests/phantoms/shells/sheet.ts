import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** One side of a shell as a mesh on the clean skin or at the wall's distance from it, in the foot frame of a right foot. */
export interface Sheet extends Mesh {
  /** The point of the skin that a vertex lies over; the vertex itself on the inner sheet. */
  readonly foot: Float64Array;
  /** Unit normals of the skin there, outward. */
  readonly normals: Float64Array;
  /** One byte a vertex: 1 where it lies straight over its foot, at the wall's distance; 0 in a crease over a web. */
  readonly straight: Uint8Array;
}
