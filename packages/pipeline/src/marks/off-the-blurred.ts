import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import type { InspectionSurface } from './inspection-surface.js';

/** Blur beyond the width of a seam or ridge, mm (standard deviation). */
export const LINE_BLUR = 4.5;

/** Signed height of each vertex over the blurred surface, mm. */
export function offTheBlurred(surface: InspectionSurface): Float64Array {
  const p = surface.mesh.positions;
  const n = surface.normals;
  const blurred = lowPass(surface.mesh, LINE_BLUR, surface.twin, surface.neighbours).positions;
  return surface.areas.map((_, v) => {
    const i = 3 * v;
    return n[i] * (p[i] - blurred[i]) + n[i + 1] * (p[i + 1] - blurred[i + 1]) + n[i + 2] * (p[i + 2] - blurred[i + 2]);
  });
}
