import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { legEnd } from '../leg-end.js';
import type { StandingCast } from './standing-cast.js';
import { surfaceAtVertices } from './standing-cast.js';

/** A cap lies within this of the top and faces up this much (cosine); the edge round it is rounded over so much, mm. */
export const CAP = { depth: 30, facing: 0.8, rounding: 2 } as const;

/** The height up to which the side of a cast with a closed top is whole: where its cap begins, or its highest point, mm. */
export function capLevel({ mesh: { positions: p }, normals }: Pick<StandingCast, 'mesh' | 'normals'>): number {
  let top = -Infinity;
  for (let i = 2; i < p.length; i += 3) if (p[i] > top) top = p[i];
  let lowest = Infinity;
  for (let i = 2; i < p.length; i += 3) if (normals[i] >= CAP.facing && p[i] > top - CAP.depth && p[i] < lowest) lowest = p[i];
  return lowest === Infinity ? top : lowest - CAP.rounding;
}

/** The height up to which the side of a cast is a leg's, mm: to its cap where its top is closed, and to what stands on it. Infinity where it is open and nothing does. */
export function legSideTo(mesh: Mesh, footLength: number, isClosed: boolean): number {
  return Math.min(isClosed ? capLevel({ mesh, ...surfaceAtVertices(mesh) }) : Infinity, legEnd(mesh, footLength));
}
