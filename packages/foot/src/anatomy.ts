import type { Point } from './landmarks.js';
import type { Side } from './side.js';
import { medialSign } from './side.js';

/** A height or hollow that every foot has to some degree. */
interface Feature {
  readonly name: string;
  /** +1 stands out, −1 is a hollow. */
  readonly sign: 1 | -1;
  /** Fractions of foot length: from the heel, to the medial side, up. */
  readonly at: Point;
  /** Reach, as a fraction of foot length. */
  readonly reach: number;
}

/**
 * Where a foot's own heights and hollows of fingertip size lie. Places from general anatomy (malleoli about 27 % and ball
 * about 74 % of foot length as in ANSUR II); refined by eye on generated feet of the tuning range. No source beyond that.
 */
const FEATURES: readonly Feature[] = [
  { name: 'medial malleolus', sign: 1, at: [0.24, 0.125, 0.29], reach: 0.085 },
  { name: 'lateral malleolus', sign: 1, at: [0.21, -0.125, 0.26], reach: 0.085 },
  { name: 'navicular', sign: 1, at: [0.38, 0.13, 0.14], reach: 0.075 },
  { name: 'lateral cuneiform and cuboid', sign: 1, at: [0.4, -0.1, 0.15], reach: 0.06 },
  { name: 'base of the fifth metatarsal', sign: 1, at: [0.46, -0.15, 0.05], reach: 0.08 },
  { name: 'outer border of the sole', sign: 1, at: [0.35, -0.15, 0.04], reach: 0.06 },
  { name: 'base of the first metatarsal', sign: 1, at: [0.49, 0.14, 0.08], reach: 0.06 },
  { name: 'first metatarsal head, medial', sign: 1, at: [0.7, 0.19, 0.06], reach: 0.07 },
  { name: 'first metatarsal head, plantar', sign: 1, at: [0.69, 0.11, 0], reach: 0.07 },
  { name: 'first metatarsal head, dorsal', sign: 1, at: [0.68, 0.12, 0.13], reach: 0.06 },
  { name: 'fourth metatarsal head, dorsal', sign: 1, at: [0.69, -0.1, 0.11], reach: 0.06 },
  { name: 'fifth metatarsal head, lateral', sign: 1, at: [0.62, -0.19, 0.05], reach: 0.07 },
  { name: 'fifth metatarsal head, plantar', sign: 1, at: [0.62, -0.14, 0], reach: 0.06 },
  { name: 'fourth metatarsal head, plantar', sign: 1, at: [0.7, -0.09, 0], reach: 0.07 },
  { name: 'second metatarsal head, plantar', sign: 1, at: [0.72, 0, 0], reach: 0.06 },
  { name: 'root of the little toe', sign: 1, at: [0.74, -0.16, 0.02], reach: 0.06 },
  { name: 'root of the great toe', sign: 1, at: [0.78, 0.15, 0.02], reach: 0.06 },
  { name: 'calcaneus, lateral', sign: 1, at: [0.18, -0.12, 0.2], reach: 0.06 },
  { name: 'Achilles tendon', sign: 1, at: [0.05, 0, 0.42], reach: 0.1 },
  { name: 'corner of the heel pad, medial', sign: 1, at: [0.06, 0.1, 0.04], reach: 0.06 },
  { name: 'corner of the heel pad, lateral', sign: 1, at: [0.06, -0.1, 0.04], reach: 0.06 },
  { name: 'belly of the short toe extensor', sign: 1, at: [0.34, -0.16, 0.2], reach: 0.07 },
  { name: 'first toe joint, dorsal', sign: 1, at: [0.75, 0.15, 0.14], reach: 0.06 },
  { name: 'arch, ridge of the fascia', sign: 1, at: [0.47, 0, 0.06], reach: 0.07 },
  { name: 'arch', sign: -1, at: [0.43, 0, 0.05], reach: 0.08 },
  { name: 'sinus tarsi', sign: -1, at: [0.37, -0.08, 0.17], reach: 0.07 },
  { name: 'hollow behind the navicular', sign: -1, at: [0.34, 0.09, 0.18], reach: 0.06 },
  { name: 'hollow under the lateral malleolus', sign: -1, at: [0.28, -0.12, 0.17], reach: 0.06 },
  { name: 'Achilles hollow, medial', sign: -1, at: [0.12, 0.06, 0.3], reach: 0.09 },
  { name: 'Achilles hollow, lateral', sign: -1, at: [0.12, -0.06, 0.3], reach: 0.09 },
  { name: 'hollow behind the fifth metatarsal head', sign: -1, at: [0.66, -0.15, 0.1], reach: 0.06 },
  { name: 'hollow between the metatarsal heads, plantar', sign: -1, at: [0.63, 0.05, 0.03], reach: 0.06 },
  { name: 'hollow behind the lesser toes, plantar', sign: -1, at: [0.7, -0.13, 0.02], reach: 0.06 },
];

/** Beyond its reach a feature still counts a little, to this multiple of it. */
const FADE = 1.3;

/**
 * How much a height or hollow at a point looks like the foot's own: 1 in the middle of such a feature, 0 away from all.
 *
 * @param point foot frame, mm
 * @param sign of the height
 */
export function anatomyAt(point: ArrayLike<number>, sign: number, footLength: number, side: Side): number {
  const m = medialSign(side);
  let most = 0;
  for (const feature of FEATURES) {
    if (feature.sign * sign <= 0) continue;
    const [x, y, z] = feature.at;
    const d = Math.hypot(point[0] / footLength - x, (m * point[1]) / footLength - y, point[2] / footLength - z) / (FADE * feature.reach);
    most = Math.max(most, 1 - d * d);
  }
  return most;
}
