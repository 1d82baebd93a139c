import { section } from '@cast-to-last/geometry/sections/section';
import type { Point } from '../landmarks.js';
import type { StandingCast } from './standing-cast.js';
import { acrossBall } from '../ball-line.js';

/** Where the toes' breadth is taken, shares of foot length. */
export const TOE_BOX = { box: 0.86, spread: 0.93 } as const;

/** Breadth of the toes as shares of the ball width. */
export interface ToeBox {
  readonly box: number;
  /** The same nearer to the tips. */
  readonly spread: number;
  /** Change of each by 1 mm along the foot. */
  readonly boxSlope: number;
  readonly spreadSlope: number;
  /** mm */
  readonly ballWidth: number;
  /** Both ends of the breadth of the box. */
  readonly ends: readonly [Point, Point];
  /** Share of those sections that is not to be leaned on. */
  readonly unsure: number;
}

/** How broad the toes stand, against the ball; null where there are no toes. */
export function toeBox(cast: StandingCast): ToeBox | null {
  const { footLength: fl } = cast.landmarks;
  const { width: ballWidth } = acrossBall(cast.landmarks);
  const at = (share: number, shift = 0): number | null => {
    const found = breadthAt(cast, share * fl + shift);
    return found === null ? null : (found.ends[1][1] - found.ends[0][1]) / ballWidth;
  };
  const box = breadthAt(cast, TOE_BOX.box * fl);
  const spread = at(TOE_BOX.spread);
  if (box === null || spread === null) return null;
  const slope = (share: number): number => {
    const behind = at(share, -1);
    const ahead = at(share, 1);
    return behind === null || ahead === null ? 0 : (ahead - behind) / 2;
  };
  return {
    box: (box.ends[1][1] - box.ends[0][1]) / ballWidth,
    spread,
    boxSlope: slope(TOE_BOX.box),
    spreadSlope: slope(TOE_BOX.spread),
    ballWidth,
    ends: box.ends,
    unsure: box.unsure,
  };
}

/** The points of least and greatest y of the section at x, least first; null where nothing is cut. */
function breadthAt({ mesh, twin, unsure }: StandingCast, x: number): { ends: readonly [Point, Point]; unsure: number } | null {
  let low: Point | null = null;
  let high: Point | null = null;
  let all = 0;
  let made = 0;
  for (const { points: p, triangles } of section(mesh, twin, [1, 0, 0], x)) {
    for (let i = 0; i < p.length; i += 3) {
      if (low === null || p[i + 1] < low[1]) low = [p[i], p[i + 1], p[i + 2]];
      if (high === null || p[i + 1] > high[1]) high = [p[i], p[i + 1], p[i + 2]];
    }
    for (const f of triangles) {
      all++;
      if (unsure[mesh.triangles[3 * f]] + unsure[mesh.triangles[3 * f + 1]] + unsure[mesh.triangles[3 * f + 2]] >= 2) made++;
    }
  }
  return low === null || high === null ? null : { ends: [low, high], unsure: made / all };
}
