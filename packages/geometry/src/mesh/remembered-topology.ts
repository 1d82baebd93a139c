import type { Mesh } from './mesh.js';
import type { Rows } from './topology.js';
import { twins, vertexNeighbours } from './topology.js';

/**
 * Adjacency that several stages ask of the same triangles, kept as long as the array of triangles lives. Only for meshes
 * whose triangles are never changed in place, as those that stages hand to each other.
 */
const knownTwins = new WeakMap<Uint32Array, Int32Array>();
const knownNeighbours = new WeakMap<Uint32Array, Rows>();

export function rememberedTwins(mesh: Mesh): Int32Array {
  let found = knownTwins.get(mesh.triangles);
  if (found === undefined) {
    found = twins(mesh);
    knownTwins.set(mesh.triangles, found);
  }
  return found;
}

export function rememberedNeighbours(mesh: Mesh): Rows {
  let found = knownNeighbours.get(mesh.triangles);
  if (found === undefined) {
    found = vertexNeighbours(mesh);
    knownNeighbours.set(mesh.triangles, found);
  }
  return found;
}
