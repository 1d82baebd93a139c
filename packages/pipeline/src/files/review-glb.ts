import { writeGlb } from '@cast-to-last/geometry/formats/glb';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { rememberedWeld } from '@cast-to-last/geometry/repair/remembered-weld';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { changeColours, changeRange } from '@cast-to-last/sheet/paper/change-colours';
import type { CastOutcome } from '../outcome.js';

/** How far smoothing moved each vertex along the surface's outward normal, mm. */
export function signedChange({ aligned, smoothed }: Pick<CastOutcome, 'aligned' | 'smoothed'>): Float64Array {
  const before = aligned.mesh.positions;
  const after = smoothed.mesh.positions;
  const normals = vertexNormals(aligned.mesh);
  const change = new Float64Array(before.length / 3);
  for (let v = 0, i = 0; v < change.length; v++, i += 3) {
    if (smoothed.moved[v] === 0) continue;
    for (let k = 0; k < 3; k++) change[v] += (after[i + k] - before[i + k]) * normals[i + k];
  }
  return change;
}

/** The scan as uploaded, in the settled foot frame. */
export const standingScan = ({ scan, measured }: Pick<CastOutcome, 'scan' | 'measured'>): Mesh => transformMesh(measured.transform, rememberedWeld(scan.mesh).mesh);

/** review.glb: the scan as uploaded and the cleaned cast with the signed change as colours, both in the foot frame. */
export function reviewGlb(scan: Mesh, cleaned: Mesh, change: Float64Array): Uint8Array {
  const rangeMm = changeRange(change);
  return writeGlb([
    { name: 'scan', mesh: scan, baseColour: [196, 190, 180] },
    { name: 'cleaned', mesh: cleaned, colours: changeColours(change, rangeMm), extras: { change: 'outward positive', rangeMm } },
  ]);
}
