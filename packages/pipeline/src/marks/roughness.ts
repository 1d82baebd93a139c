import type { InspectionSurface } from './inspection-surface.js';
import { offNeighbours } from './off-neighbours.js';

/** Standard deviation of the surface's texture and noise, mm: how far vertices stand off from their neighbours, on its robust scale. */
export function roughness(surface: InspectionSurface): number {
  const { offsets } = surface.neighbours;
  const off: number[] = [];
  for (let v = 0; v + 1 < offsets.length; v += 3) {
    if (surface.unsure[v] === 0 && offsets[v + 1] > offsets[v]) off.push(offNeighbours(surface, v));
  }
  if (off.length === 0) return 0;
  off.sort((a, b) => a - b);
  const quartile = (share: number): number => off[Math.min(off.length - 1, Math.floor(share * off.length))];
  // The range between the quartiles of a normal distribution is 1.349 standard deviations.
  return (quartile(0.75) - quartile(0.25)) / 1.349;
}
