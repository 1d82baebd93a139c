import type { Mesh } from '../mesh/mesh.js';
import { meanEdgeLength, vertexNormals } from '../mesh/quantities.js';
import type { Rows } from '../mesh/topology.js';

/** Share of the edge length squared by which one round of averaging over neighbours widens the blur (variance). */
const PER_ROUND = 0.4;

/**
 * Unit vertex normals averaged over neighbours, so that they do not follow noise. Length 3 × vertices.
 *
 * @param length standard deviation of the blur, in the mesh's unit
 */
export function blurredNormals(mesh: Mesh, length: number, neighbours: Rows): Float64Array {
  const edge = meanEdgeLength(mesh);
  const rounds = edge === 0 ? 0 : Math.min(40, Math.round(length ** 2 / (PER_ROUND * edge ** 2)));
  let from = vertexNormals(mesh);
  let to: Float64Array = new Float64Array(from.length);
  for (let round = 0; round < rounds; round++) {
    for (let v = 0; v + 1 < neighbours.offsets.length; v++) {
      let x = from[3 * v];
      let y = from[3 * v + 1];
      let z = from[3 * v + 2];
      for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) {
        const w = 3 * neighbours.items[i];
        x += from[w];
        y += from[w + 1];
        z += from[w + 2];
      }
      const norm = Math.sqrt(x * x + y * y + z * z) || 1;
      to[3 * v] = x / norm;
      to[3 * v + 1] = y / norm;
      to[3 * v + 2] = z / norm;
    }
    const written = to;
    to = from;
    from = written;
  }
  return from;
}
