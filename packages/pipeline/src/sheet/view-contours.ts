import { depthContours } from '@cast-to-last/geometry/views/contour-lines';
import type { PaperLine } from '@cast-to-last/geometry/views/contour-lines';
import type { View } from '@cast-to-last/geometry/views/view';

/** Contour lines of the surface seen, every `step` mm of depth. */
export function viewContours(view: View, step: number): PaperLine[] {
  const { depth } = view;
  let low = Infinity;
  let high = -Infinity;
  for (let k = 0; k < depth.length; k++) {
    if (depth[k] < low) low = depth[k];
    if (depth[k] > high) high = depth[k];
  }
  const levels: number[] = [];
  for (let level = Math.ceil(low / step) * step; level < high; level += step) levels.push(level);
  return depthContours(view, levels).flat();
}
