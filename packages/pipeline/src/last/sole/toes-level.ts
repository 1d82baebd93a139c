import { aheadOfBallLine } from '@cast-to-last/foot/ball-line';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { tangentLine } from './corner.js';
import { edgeSection } from './edge-sections.js';
import type { SoleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';

/**
 * Set on generated feet of the tuning range (46 seeds, some pressed on a footbed): the side over caps of the toes goes in and
 * out by 0.4 to 0.9 mm, that of toes by 1.5 to 2.6 mm.
 */
const TOES = {
  /** Ahead of the line through the ball points begin the toes, as a share of foot length. */
  from: 0.12,
  /** Slope of the tangent of the side by which the edge is told: upright but for 10°. */
  slope: (80 * Math.PI) / 180,
  /** Distance over which the edge is seen to go in and out, mm, and how much that may be on average. */
  over: 8,
  most: 1.2,
  /** What a place counts for that shows no edge, mm. */
  gap: 4,
} as const;

/** Whether the toes show one edge between sole and side, as levelled toes and toes under a cap do, or each its own. */
export function toesLevel(mesh: Mesh, twin: Int32Array, outline: SoleOutline, map: SoleMap, landmarks: Landmarks): boolean {
  const { points, count, step } = outline;
  const from = TOES.from * landmarks.footLength;
  const hop = Math.round(TOES.over / step);
  const far = new Float64Array(count).fill(NaN);
  for (let s = 0; s < count; s++) {
    if (aheadOfBallLine(points[2 * s], points[2 * s + 1], landmarks) < from - TOES.over) continue;
    const edge = edgeSection(mesh, twin, outline, map, s);
    if (edge !== null) far[s] = tangentLine(edge, TOES.slope).far;
  }
  let sum = 0;
  let places = 0;
  for (let s = 0; s < count; s++) {
    if (aheadOfBallLine(points[2 * s], points[2 * s + 1], landmarks) < from) continue;
    const bend = Math.abs(far[(s + count - hop) % count] - 2 * far[s] + far[(s + hop) % count]);
    sum += Number.isNaN(bend) ? TOES.gap : Math.min(TOES.gap, bend);
    places++;
  }
  return sum <= TOES.most * places;
}
