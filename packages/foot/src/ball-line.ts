import type { Landmarks } from './landmarks.js';

type BallPoints = Pick<Landmarks, 'medialBall' | 'lateralBall'>;

/** From the outer ball point to the inner one, level: distance, mm, and unit vector. */
export function acrossBall({ medialBall: a, lateralBall: b }: BallPoints): { readonly width: number; readonly x: number; readonly y: number } {
  const width = Math.hypot(a[0] - b[0], a[1] - b[1]);
  return { width, x: (a[0] - b[0]) / width, y: (a[1] - b[1]) / width };
}

/** How far a place lies ahead of the line through the ball points, along the foot, mm. */
export const aheadOfBallLine = (x: number, y: number, { medialBall: a, lateralBall: b }: BallPoints): number => x - (b[0] + ((y - b[1]) / (a[1] - b[1])) * (a[0] - b[0]));
