import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { partSlit } from '@cast-to-last/geometry/repair/part-slit';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';

/** Most cuts that may run into one opening: a shell is cut along one line or two. */
const MOST_CUTS = 3;

export interface PartedCuts {
  /** Boundary loops of which none holds an opening together with a cut that runs into it. */
  readonly loops: readonly Uint32Array[];
  /** x, y, z along the edges of each cut that stands open, from its mouth round its tip and back. */
  readonly cuts: readonly Float64Array[];
}

/**
 * Parts cuts that stand open from the loops that they run into: a shell is cut up into its opening, and where it was not
 * closed again, the opening and both edges of the cut are one loop that looks like neither.
 */
export function partCuts(mesh: Mesh, around: Rows, loops: readonly Uint32Array[]): PartedCuts {
  const cuts: Float64Array[] = [];
  const parted = loops.flatMap((loop) => {
    const parts: Uint32Array[] = [];
    let rest = loop;
    for (let found = partSlit(mesh.positions, rest); found !== null && parts.length < MOST_CUTS; found = partSlit(mesh.positions, rest)) {
      parts.push(found.slit);
      if (!laps(mesh, around, found.slit)) cuts.push(edgesOf(mesh, found.slit));
      rest = found.rest;
    }
    return [rest, ...parts];
  });
  return { loops: parted, cuts };
}

function edgesOf({ positions }: Mesh, slit: Uint32Array): Float64Array {
  const out = new Float64Array(3 * slit.length);
  slit.forEach((v, i) => out.set(positions.subarray(3 * v, 3 * v + 3), 3 * i));
  return out;
}

/** Whether one side of a slit lies over the other: the way across it leads back over the surface that it bounds. */
function laps({ positions: p, triangles }: Mesh, around: Rows, slit: Uint32Array): boolean {
  let over = 0;
  const half = slit.length >> 1;
  for (let i = 0; i < slit.length; i++) {
    const v = 3 * slit[i];
    let nearest = -1;
    let least = Infinity;
    for (let j = i < half ? half : 0; j < (i < half ? slit.length : half); j++) {
      const w = 3 * slit[j];
      const d = (p[w] - p[v]) ** 2 + (p[w + 1] - p[v + 1]) ** 2 + (p[w + 2] - p[v + 2]) ** 2;
      if (d >= least) continue;
      least = d;
      nearest = w;
    }
    let along = 0;
    for (let r = around.offsets[slit[i]]; r < around.offsets[slit[i] + 1]; r++) {
      for (let k = 0; k < 3; k++) {
        const w = 3 * triangles[3 * around.items[r] + k];
        for (let axis = 0; axis < 3; axis++) along += (p[w + axis] - p[v + axis]) * (p[nearest + axis] - p[v + axis]);
      }
    }
    over += Math.sign(along);
  }
  return over > 0;
}
