import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { leastCrest } from './ridges.js';

/**
 * Share of the surface behind the toes on steady crests and as much of it on steady hollows from which it is rippled: ripples go
 * up and down, the sharp rim of a sole that was cut flat only up. Casts with eight bandage edges and a seam have up to 0.034
 * (generated casts of the tuning range), ripples of 0.3 mm at 6 to 8 mm 0.05 to 0.3 where the scan is fine enough to show them.
 */
const RIPPLED = 0.05;

/**
 * Whether fine lines cover the surface, as some scanners leave them. A bandage's edge or the edges of a cut cannot be told
 * among them.
 *
 * @param roughness standard deviation of noise and texture along the normal, mm
 * @param isBody whether a vertex lies behind the toes: bandage that is folded over those lies in lines, too
 */
export function isRippled(surface: InspectionSurface, { steady }: Crests, roughness: number, isBody: (v: number) => boolean): boolean {
  const least = leastCrest(roughness);
  let up = 0;
  let down = 0;
  let sought = 0;
  for (let v = 0; v < steady.length; v++) {
    if (surface.unsure[v] === 1 || !isBody(v)) continue;
    sought += surface.areas[v];
    if (steady[v] >= least) up += surface.areas[v];
    else if (steady[v] <= -least) down += surface.areas[v];
  }
  return 2 * Math.min(up, down) > RIPPLED * sought;
}
