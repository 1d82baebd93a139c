import { vertexNormals } from '@cast-to-last/geometry/quantities';
import { section } from '@cast-to-last/geometry/section';
import { FRAME, breadthBelow } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Side } from './side.js';
import { medialSign } from './side.js';

/** Where the arch's height is sought: shares of foot length, sections between them, and how far its sole faces down (45°). */
export const ARCH = { from: 0.35, to: 0.55, steps: 20, facing: Math.SQRT1_2 } as const;

/**
 * The greatest height of the sole on the medial third of the arch: of the surface there as far as it faces down within 45°.
 *
 * @returns null where no sole is found there
 */
export function archHeight({ mesh, twin, filled }: Wrapped, footLength: number, side: Side): { readonly height: number; readonly onFilled: number } | null {
  const normals = vertexNormals(mesh);
  const m = medialSign(side);
  let height = -Infinity;
  let onFilled = 0;
  for (let k = 0; k <= ARCH.steps; k++) {
    const share = ARCH.from + (k / ARCH.steps) * (ARCH.to - ARCH.from);
    const curves = section(mesh, twin, [1, 0, 0], share * footLength);
    const ends = breadthBelow(curves, FRAME.heelCeiling * footLength);
    if (ends === null) continue;
    const medialEdge = m > 0 ? ends[1] : -ends[0];
    const third = (ends[1] - ends[0]) / 3;
    for (const curve of curves) {
      for (let i = 0; i + 3 <= curve.points.length; i += 3) {
        const inward = medialEdge - m * curve.points[i + 1];
        const corner = 3 * mesh.triangles[3 * curve.triangles[Math.min(i / 3, curve.triangles.length - 1)]];
        if (inward < 0 || inward > third || normals[corner + 2] > -ARCH.facing) continue;
        if (curve.points[i + 2] > height) {
          height = curve.points[i + 2];
          onFilled = filled[corner / 3];
        }
      }
    }
  }
  return height === -Infinity ? null : { height, onFilled };
}
