import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { leastCrest } from './ridges.js';

/**
 * Share of a surface on steady crests and as much of it on steady hollows from which it is rippled: ripples go up and down, the
 * sharp rim of a sole that was cut flat only up. Casts with ten bandage edges and a seam have up to 0.033 (generated casts of
 * the tuning range), ripples of 0.3 mm at 8 to 12 mm mostly 0.1 to 0.3, the rims of cut soles 0.02.
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
  let up = 0;
  let down = 0;
  let sought = 0;
  for (let v = 0; v < steady.length; v++) {
    if (surface.unsure[v] === 1) continue;
    sought += surface.areas[v];
    if (steady[v] >= least) up += surface.areas[v];
    else if (steady[v] <= -least) down += surface.areas[v];
  }
  return 2 * Math.min(up, down) > RIPPLED * sought;
}
