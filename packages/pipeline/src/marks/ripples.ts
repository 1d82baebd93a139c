import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { leastCrest } from './ridges.js';

/**
 * Share of a surface on steady crests from which it is rippled. Casts with ten bandage edges and a seam have 0.01 to 0.035
 * (generated casts of the tuning range), ripples of 0.1 mm at 8 mm have 0.08 to 0.11, of 0.3 mm 0.3 to 0.4.
 */
const RIPPLED = 0.07;

/**
 * Whether fine lines cover the surface, as some scanners leave them. A bandage's edge or the edges of a cut cannot be told
 * among them.
 *
 * @param roughness standard deviation of noise and texture along the normal, mm
 */
export function isRippled(surface: InspectionSurface, { steady }: Crests, roughness: number): boolean {
  const least = leastCrest(roughness);
  let lined = 0;
  let sought = 0;
  for (let v = 0; v < steady.length; v++) {
    if (surface.unsure[v] === 1) continue;
    sought += surface.areas[v];
    if (Math.abs(steady[v]) >= least) lined += surface.areas[v];
  }
  return lined > RIPPLED * sought;
}
