import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { cheapestPath } from '@cast-to-last/geometry/cheapest-path';
import type { Crests } from './crests.js';
import type { InspectionSurface } from './inspection-surface.js';
import { nearOnSurface } from './near-on-surface.js';
import type { Ridge } from './ridges.js';
import { describeRidge } from './ridges.js';

export const SEAM = {
  /** The corridor in which a cast is cut open: half its width, mm, and how far its surface may face sideways. */
  halfWidth: 26,
  facing: 0.45,
  /** Where the way starts and ends: shares of foot length at the toe base, and behind which the crook lies. */
  toeBase: 0.68,
  crook: 0.42,
  /** Height at which a crest costs half as much to follow as bare surface, mm. */
  pull: 0.08,
  /** Steady height that counts as seam, mm, or as a multiple of the roughness. */
  line: 0.07,
  lineNoise: 0.8,
  /** Share of the way that must count. */
  covered: 0.62,
  /** Mean steady height along the way, mm, or as a multiple of the roughness. */
  mean: 0.11,
  meanNoise: 1.6,
  /** Crests this near to the way belong to the seam, mm. */
  half: 3.5,
} as const;

/**
 * The seam that cutting the cast open along the top of the foot left: the way from toe base to the crook of the ankle
 * that follows the strongest crests, if enough of it is crest.
 */
export function findSeam(surface: InspectionSurface, crests: Crests, landmarks: Landmarks, roughness: number): Ridge | null {
  const p = surface.mesh.positions;
  const n = surface.normals;
  const fl = landmarks.footLength;
  const middle = landmarks.instep?.[1] ?? 0;
  const crook = landmarks.crook ?? [SEAM.crook * fl, middle, Infinity];
  const inCorridor = (v: number): boolean =>
    Math.abs(p[3 * v + 1] - middle) < SEAM.halfWidth && n[3 * v + 2] + Math.max(0, n[3 * v]) > SEAM.facing && p[3 * v] < 0.75 * fl && p[3 * v] > crook[0] - 12;
  const starts: number[] = [];
  const ends = new Set<number>();
  for (let v = 0; v < surface.areas.length; v++) {
    if (!inCorridor(v)) continue;
    const x = p[3 * v];
    if (Math.abs(x - SEAM.toeBase * fl) < 2) starts.push(v);
    if (Math.abs(x - Math.max(SEAM.crook * fl, crook[0] + 4)) < 2) ends.add(v);
  }
  const cost = (v: number): number => 1 / (SEAM.pull + Math.min(0.5, Math.abs(crests.steady[v])));
  const path = cheapestPath(surface.mesh, surface.neighbours, starts, ends, cost, inCorridor);
  if (path === null) return null;
  const line = Math.max(SEAM.line, SEAM.lineNoise * roughness);
  let covered = 0;
  let sum = 0;
  for (const v of path) {
    const h = Math.abs(crests.steady[v]);
    sum += h;
    if (h > line) covered++;
  }
  if (covered < SEAM.covered * path.length || sum / path.length < Math.max(SEAM.mean, SEAM.meanNoise * roughness)) return null;
  const { reached } = nearOnSurface(surface, path, SEAM.half);
  const own = Array.from(reached).filter((v) => crests.height[v] !== 0 || path.includes(v));
  return describeRidge(surface, crests, Uint32Array.from(own));
}
