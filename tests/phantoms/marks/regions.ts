import { medialSign, type Side } from '@cast-to-last/foot/side';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Region } from '../truth.js';

/**
 * The region of a point of the clean surface, in the foot frame, by its unit normal. The first rule that holds:
 * toes: more than 0.075 FL in front of the line through the ball points; ankle: above 0.25 FL, behind 0.5 FL;
 * ball: within 0.06 FL of that line; arch: 0.28 to 0.62 FL, medial half, facing down or inward below 0.15 FL (normal z < 0.1);
 * sole: normal z < −0.6; heel: behind 0.28 FL; instep: normal z > 0.35; sides: the rest.
 */
export function regionOf(p: ArrayLike<number>, normal: ArrayLike<number>, side: Side, marks: Landmarks): Region {
  const fl = marks.footLength;
  const [x, y, z] = [p[0], p[1], p[2]];
  const across = (y - marks.lateralBall[1]) / (marks.medialBall[1] - marks.lateralBall[1]);
  const ahead = x - (marks.lateralBall[0] + across * (marks.medialBall[0] - marks.lateralBall[0]));
  if (ahead > 0.075 * fl) return 'toes';
  if (z > 0.25 * fl && x < 0.5 * fl) return 'ankle';
  if (Math.abs(ahead) <= 0.06 * fl) return 'ball';
  if (x > 0.28 * fl && x < 0.62 * fl && medialSign(side) * y > 0 && z < 0.15 * fl && normal[2] < 0.1) return 'arch';
  if (normal[2] < -0.6) return 'sole';
  if (x < 0.28 * fl) return 'heel';
  if (normal[2] > 0.35) return 'instep';
  return 'sides';
}
