import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Extent } from './extent.js';
import type { Spot } from './spots.js';

/**
 * How likely a spot is a mark rather than anatomy: a linear score of what was measured of it, 0 where both are equally
 * likely. The weights were fitted on generated casts of the tuning range and checked on others; each names what it
 * rewards.
 */
export const SCORE = {
  body: {
    /** Less doubt in the depth than depth. */
    doubt: -1.9,
    depth: 2.4,
    /** Narrow rather than wide. */
    gap: -4.5,
    /** Standing off alike in all directions. */
    evenness: 1.0,
    /** Ending where it seems to end. */
    growth: -1.2,
    slender: -3.5,
    ring: -2.2,
    offset: -7.3,
  },
  toes: { doubt: -1.9, depth: 1.2, gap: -4.5, evenness: 1.5, growth: -1.2, slender: -3.5, ring: -3, offset: -12.5 },
  /** A spot is worth measuring from this height on, mm. */
  leastSpot: 0.35,
  /** Deeper than this is no finger's work, mm. */
  mostDepth: 10,
  /** Where the toes begin: this share of the way from the ball points to the toe tip. */
  toesFrom: 0.15,
} as const;

export type GroundKind = 'body' | 'toes';

/** The ground on which a point of the foot lies. */
export function groundAt(landmarks: Landmarks): (x: number, y: number) => GroundKind {
  const { medialBall: a, lateralBall: b, footLength } = landmarks;
  return (x, y) => {
    const share = Math.abs(a[1] - b[1]) < 1 ? 0.5 : Math.min(1, Math.max(0, (y - b[1]) / (a[1] - b[1])));
    const ball = b[0] + share * (a[0] - b[0]);
    return x > ball + SCORE.toesFrom * (footLength - ball) ? 'toes' : 'body';
  };
}

/** The score of a measured spot; −Infinity where it cannot be a mark. */
export function scoreOf(extent: Extent, spot: Spot, ground: GroundKind, leastDepth: number): number {
  const depth = Math.abs(extent.depth);
  if (depth < leastDepth || depth > SCORE.mostDepth) return -Infinity;
  const w = SCORE[ground];
  return (
    w.offset +
    w.doubt * Math.log(Math.max(extent.doubt, 0.01) / depth) +
    w.depth * Math.log(depth) +
    w.gap * (spot.gap / 10) +
    w.evenness * Math.log(Math.abs(spot.height) / depth) +
    w.growth * Math.log(Math.max(extent.growth, 0.2)) +
    w.slender * Math.log(extent.length / Math.max(extent.width, 1)) +
    w.ring * Math.log(Math.max(extent.ringError, 0.01))
  );
}
