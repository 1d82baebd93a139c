import type { Mesh } from './mesh.js';
import { rememberedNeighbours } from './remembered-topology.js';

/** The flagged vertices of a mesh in patches that are joined along edges, each from its first vertex outwards. */
export function joinedPatches(mesh: Mesh, flags: Uint8Array): number[][] {
  const { items, offsets } = rememberedNeighbours(mesh);
  const open = flags.slice();
  const patches: number[][] = [];
  for (let first = 0; first < open.length; first++) {
    if (open[first] === 0) continue;
    open[first] = 0;
    const patch = [first];
    for (const v of patch) {
      for (let k = offsets[v]; k < offsets[v + 1]; k++) {
        const w = items[k];
        if (open[w] === 0) continue;
        open[w] = 0;
        patch.push(w);
      }
    }
    patches.push(patch);
  }
  return patches;
}
