import type { InspectionSurface } from './inspection-surface.js';

/** Signed height of a vertex over the mean of its neighbours along its normal, mm: cheap, and 0 on what is flat. */
export function offNeighbours(surface: InspectionSurface, vertex: number): number {
  const p = surface.mesh.positions;
  const n = surface.normals;
  const { offsets, items } = surface.neighbours;
  let sum = 0;
  for (let i = offsets[vertex]; i < offsets[vertex + 1]; i++) {
    const w = items[i];
    for (let k = 0; k < 3; k++) sum += n[3 * vertex + k] * (p[3 * vertex + k] - p[3 * w + k]);
  }
  return sum / (offsets[vertex + 1] - offsets[vertex] || 1);
}
