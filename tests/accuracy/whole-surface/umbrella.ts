import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { BOUNDARY, twins, vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';

/** Writes into `to` the mean of each vertex's neighbours in `from`; vertices at a boundary keep their own place. */
export type Average = (from: Float64Array, to: Float64Array) => void;

export function neighbourAverage(mesh: Mesh): Average {
  const { offsets, items } = vertexNeighbours(mesh);
  const fixed = new Uint8Array(offsets.length - 1);
  twins(mesh).forEach((twin, h) => {
    if (twin !== BOUNDARY) return;
    fixed[mesh.triangles[h]] = 1;
    fixed[mesh.triangles[h % 3 === 2 ? h - 2 : h + 1]] = 1;
  });
  return (from, to) => {
    for (let v = 0; v < fixed.length; v++) {
      const degree = offsets[v + 1] - offsets[v];
      for (let k = 0; k < 3; k++) {
        let sum = 0;
        for (let n = offsets[v]; n < offsets[v + 1]; n++) sum += from[3 * items[n] + k];
        to[3 * v + k] = fixed[v] === 1 || degree === 0 ? from[3 * v + k] : sum / degree;
      }
    }
  };
}
