import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { edgeLine } from './sole/edge-line.js';
import { OutlineIndex } from './sole/outline-index.js';
import { rimMesh } from './sole/rim-mesh.js';
import { soleMap } from './sole/sole-map.js';
import { soleOutline } from './sole/sole-outline.js';
import { REACH } from './sole/sole-reading.js';

/**
 * The feather line, the edge between sole and upper: where the surface turns half-way from facing the floor to facing
 * sideways. On a foot that is round there it is the middle of the rounding, on a last the middle of the edge.
 *
 * @returns x, y, z of its points, about 2 mm apart, in the body's frame, counter-clockwise seen from above; the last leads
 * back to the first. Empty where the body has no sole.
 */
export function featherLine({ mesh, landmarks }: { readonly mesh: Mesh; readonly landmarks: Pick<Landmarks, 'footLength'> }): Float64Array {
  const map = soleMap(mesh, landmarks);
  const outline = soleOutline(map);
  if (outline === null) return new Float64Array(0);
  const rim = rimMesh(mesh, new OutlineIndex(outline, REACH), landmarks.footLength);
  return edgeLine(rim, twins(rim), outline, map);
}
