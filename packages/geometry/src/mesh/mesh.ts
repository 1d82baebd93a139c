/** A triangle mesh on typed arrays. Coordinates are millimetres wherever the caller does not say otherwise. */
export interface Mesh {
  /** x, y, z of each vertex; length 3 × vertices. */
  readonly positions: Float64Array;
  /** Vertex indices of each triangle, counter-clockwise seen from outside; length 3 × triangles. */
  readonly triangles: Uint32Array;
}

export const vertexCount = (mesh: Mesh): number => mesh.positions.length / 3;

export const triangleCount = (mesh: Mesh): number => mesh.triangles.length / 3;

/** Axis-aligned bounds as [minX, minY, minZ, maxX, maxY, maxZ]; infinities for a mesh with no vertices. */
export function bounds(positions: Float64Array): Float64Array {
  const box = new Float64Array(6);
  for (let k = 0; k < 3; k++) {
    let low = Infinity;
    let high = -Infinity;
    for (let i = k; i < positions.length; i += 3) {
      const c = positions[i];
      if (c < low) low = c;
      if (c > high) high = c;
    }
    box[k] = low;
    box[k + 3] = high;
  }
  return box;
}

/** The length of the diagonal of the bounds. */
export function diagonal(positions: Float64Array): number {
  const b = bounds(positions);
  return Math.hypot(b[3] - b[0], b[4] - b[1], b[5] - b[2]);
}
