import type { Mesh } from '../mesh/mesh.js';
import { weld } from './weld.js';
import type { Welded } from './weld.js';

export type RememberedWeld = Pick<Welded, 'mesh' | 'welded'>;

const known = new WeakMap<Mesh, RememberedWeld>();

/**
 * What `weld` makes of a scan at its own tolerance, kept as long as the mesh lives: a whole scan is welded by
 * more than one. Only for meshes that are never changed in place.
 */
export function rememberedWeld(mesh: Mesh): RememberedWeld {
  let found = known.get(mesh);
  if (found === undefined) {
    const { mesh: joined, welded } = weld(mesh);
    found = { mesh: joined, welded };
    known.set(mesh, found);
  }
  return found;
}
