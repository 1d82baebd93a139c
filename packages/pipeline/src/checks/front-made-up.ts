import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';

/**
 * Share (0 to 1) of the front of the toes that is not to be leaned on.
 *
 * @param depth how far back from the toe end the front reaches, share of foot length
 */
export function frontMadeUp({ mesh: { positions: p }, areas, unsure, landmarks }: StandingCast, depth: number): number {
  const from = landmarks.toeTip[0] - depth * landmarks.footLength;
  let all = 0;
  let made = 0;
  for (let v = 0; v < areas.length; v++) {
    if (p[3 * v] < from) continue;
    all += areas[v];
    if (unsure[v] === 1) made += areas[v];
  }
  return all === 0 ? 0 : made / all;
}
