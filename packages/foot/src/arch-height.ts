import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormal } from '@cast-to-last/geometry/mesh/quantities';
import { section } from '@cast-to-last/geometry/sections/section';
import { breadthBelow } from './breadth-below.js';
import { FRAME } from './frame.js';
import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';
import type { Side } from './side.js';
import { medialSign } from './side.js';

/** Where the arch's height is sought: shares of foot length, sections between them, and how far its sole faces down (45°). */
export const ARCH = { from: 0.35, to: 0.55, steps: 20, facing: Math.SQRT1_2 } as const;

/**
 * The greatest height of the sole on the medial third of the arch: of the surface there as far as it faces down within 45°.
 *
 * @returns null where no sole is found there
 */
export function archHeight({ mesh, twin, filled }: Wrapped, footLength: number, side: Side): { readonly height: number; readonly at: Point; readonly onFilled: number } | null {
  const m = medialSign(side);
  // A fold in the leg or in the cap of a closed top may face down as well, but no sole lies as high as that.
  const ceiling = FRAME.heelCeiling * footLength;
  let height = -Infinity;
  let at: Point = [0, 0, 0];
  let onFilled = 0;
  for (let k = 0; k <= ARCH.steps; k++) {
    const share = ARCH.from + (k / ARCH.steps) * (ARCH.to - ARCH.from);
    const curves = section(mesh, twin, [1, 0, 0], share * footLength);
    const ends = breadthBelow(curves, ceiling);
    if (ends === null) continue;
    const medialEdge = m > 0 ? ends[1] : -ends[0];
    const third = (ends[1] - ends[0]) / 3;
    for (const { points, triangles } of curves) {
      const count = points.length / 3;
      for (let i = 0; i < triangles.length; i++) {
        // The middle of the segment that lies in this triangle: there the surface faces as the triangle does.
        const a = 3 * i;
        const b = 3 * ((i + 1) % count);
        const z = (points[a + 2] + points[b + 2]) / 2;
        const inward = medialEdge - (m * (points[a + 1] + points[b + 1])) / 2;
        if (z <= height || z > ceiling || inward < 0 || inward > third || !facesDown(mesh, triangles[i])) continue;
        height = z;
        at = [(points[a] + points[b]) / 2, (points[a + 1] + points[b + 1]) / 2, z];
        onFilled = filledShare(mesh, filled, triangles[i]);
      }
    }
  }
  return height === -Infinity ? null : { height, at, onFilled };
}

/** Whether a triangle's own normal points down as far as the sole's does. */
function facesDown(mesh: Mesh, triangle: number): boolean {
  const n = new Float64Array(3);
  triangleNormal(mesh, 3 * triangle, n);
  return n[2] <= -ARCH.facing * Math.hypot(n[0], n[1], n[2]);
}

const filledShare = ({ triangles: t }: Mesh, filled: Uint8Array, triangle: number): number =>
  (filled[t[3 * triangle]] + filled[t[3 * triangle + 1]] + filled[t[3 * triangle + 2]]) / 3;
