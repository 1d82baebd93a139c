import type { Mesh } from '../mesh/mesh.js';
import { keepTriangles } from '../mesh/components.js';
import { squaredDistance } from '../numerics/lengths.js';
import { nextHalfedge } from '../mesh/topology.js';

/** Drops spikes: triangles that hang on a single edge and are many times as long as it, as a wrong corner leaves them. */
export const SPIKE_DEFAULTS = {
  /** Longest edge over the one that it hangs on. */
  length: 8,
} as const;

/** `twin` pairs the halfedges of an oriented mesh. */
export function dropSpikes(mesh: Mesh, twin: Int32Array): { triangles: Uint32Array; twin: Int32Array; dropped: number } {
  const { positions: p, triangles } = mesh;
  const squared = (h: number): number => squaredDistance(p, triangles[h], triangles[nextHalfedge(h)]);
  const keep = new Uint8Array(triangles.length / 3).fill(1);
  let dropped = 0;
  for (let h = 0; h < triangles.length; h += 3) {
    if (+(twin[h] >= 0) + +(twin[h + 1] >= 0) + +(twin[h + 2] >= 0) !== 1) continue;
    const joined = twin[h] >= 0 ? h : twin[h + 1] >= 0 ? h + 1 : h + 2;
    if (Math.max(squared(h), squared(h + 1), squared(h + 2)) <= SPIKE_DEFAULTS.length ** 2 * squared(joined)) continue;
    keep[h / 3] = 0;
    dropped++;
  }
  return dropped === 0 ? { triangles, twin, dropped } : { ...keepTriangles(triangles, twin, keep), dropped };
}
