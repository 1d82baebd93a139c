import { median } from '@cast-to-last/geometry/numerics/median';
import type { FoundMark } from './found-mark.js';
import type { InspectionSurface } from './inspection-surface.js';
import { nearOnSurface } from './near-on-surface.js';

/** Set on casts of one generator of pressed soles and on the marks of generated casts of the tuning range. */
export const PRESSED = {
  /** A dent is a pressed flat from this width on, mm, where the middle of it, this share of its width all round… */
  flatWidth: 18,
  core: 0.3,
  /** … lies no higher over the plane that the cast rests on than this share of its depth and this many mm. */
  share: 0.3,
  more: 0.15,
  /** A ridge is the edge of a pressed sole from this width on, mm, where of the surface within so many mm beside it… */
  edgeWidth: 17,
  beside: [2, 10],
  /** … at least this share faces straight down (cosine of 14°), and this share is turned up from there (by more than 41°). */
  down: 0.2,
  straight: -0.97,
  turned: 0.35,
  up: -0.75,
} as const;

/**
 * Whether a dent is a part of the sole that bore weight on the footbed: against the round surface beside it it looks sunken, but
 * the cast rests on it, and nothing rests on the bottom of a dent.
 *
 * @param surface in the foot frame: z = 0 is the plane that the cast rests on
 */
export function isPressedFlat(surface: InspectionSurface, { kind, depth, width, centre, vertices }: FoundMark): boolean {
  if (kind !== 'dent' || width < PRESSED.flatWidth) return false;
  const p = surface.mesh.positions;
  const core = vertices.filter((v) => Math.hypot(p[3 * v] - centre[0], p[3 * v + 1] - centre[1]) < PRESSED.core * width);
  return core.length > 0 && median(Float64Array.from(core, (v) => p[3 * v + 2])) < PRESSED.share * Math.abs(depth) + PRESSED.more;
}

/** Whether a ridge is the edge of a sole that was pressed flat: one side of it faces the floor, the other is turned up, and it is broad. */
export function isSoleEdge(surface: InspectionSurface, { width, vertices }: FoundMark): boolean {
  if (width < PRESSED.edgeWidth) return false;
  const [from, to] = PRESSED.beside;
  const { reached, distance } = nearOnSurface(surface, vertices, to);
  let all = 0;
  let down = 0;
  let turned = 0;
  for (let i = 0; i < reached.length; i++) {
    if (distance[i] < from) continue;
    const z = surface.normals[3 * reached[i] + 2];
    all++;
    if (z < PRESSED.straight) down++;
    if (z > PRESSED.up) turned++;
  }
  return down > PRESSED.down * all && turned > PRESSED.turned * all;
}
