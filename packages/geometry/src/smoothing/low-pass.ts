import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import { meanEdgeLength } from '../mesh/quantities.js';
import type { Rows } from '../mesh/topology.js';
import { BOUNDARY, twins, vertexNeighbours } from '../mesh/topology.js';

/** Steps of Taubin's λ|μ filter: an inward step and the outward one that gives the volume back. */
const INWARD = 0.5;
const OUTWARD = -0.53;

/**
 * The mesh without noise finer than `length`: Taubin's λ|μ filter (Taubin 1995, A signal processing approach to fair
 * surface design) with as many rounds as a blur of that standard deviation takes at the mesh's edge length. Boundary
 * vertices stay; a mesh whose edges are longer than twice `length` comes back as it is.
 *
 * @param length standard deviation of the blur, in the mesh's unit
 * @param edge mean length of the edges, by which the rounds are counted
 */
export function lowPass(mesh: Mesh, length: number, twin: Int32Array = twins(mesh), neighbours: Rows = vertexNeighbours(mesh), edge: number = meanEdgeLength(mesh)): Mesh {
  const rounds = Math.min(60, Math.round((4 * length * length) / (edge * edge)));
  if (rounds === 0) return mesh;
  const fixed = new Uint8Array(vertexCount(mesh));
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== BOUNDARY) continue;
    fixed[mesh.triangles[h]] = 1;
    fixed[mesh.triangles[h % 3 === 2 ? h - 2 : h + 1]] = 1;
  }
  let from = mesh.positions.slice();
  let to = new Float64Array(from.length);
  for (let step = 0; step < 2 * rounds; step++) {
    drawn(from, to, step % 2 === 0 ? INWARD : OUTWARD, fixed, neighbours.offsets, neighbours.items);
    const before = from;
    from = to;
    to = before;
  }
  return { positions: from, triangles: mesh.triangles };
}

/** Each vertex a share of the way to the middle of its neighbours. */
function drawn(from: Float64Array, to: Float64Array, share: number, fixed: Uint8Array, offsets: Uint32Array, items: Uint32Array): void {
  for (let v = 0; v < fixed.length; v++) {
    const start = offsets[v];
    const end = offsets[v + 1];
    const i = 3 * v;
    if (fixed[v] === 1 || start === end) {
      to[i] = from[i];
      to[i + 1] = from[i + 1];
      to[i + 2] = from[i + 2];
      continue;
    }
    let x = 0;
    let y = 0;
    let z = 0;
    for (let k = start; k < end; k++) {
      const w = 3 * items[k];
      x += from[w];
      y += from[w + 1];
      z += from[w + 2];
    }
    const degree = end - start;
    to[i] = from[i] + share * (x / degree - from[i]);
    to[i + 1] = from[i + 1] + share * (y / degree - from[i + 1]);
    to[i + 2] = from[i + 2] + share * (z / degree - from[i + 2]);
  }
}
