import type { Landmarks } from '@cast-to-last/foot/landmarks';

/** Where the toes begin: this share of the way from the ball points to the toe tip. */
const TOES_FROM = 0.15;

/** … and where they are free of each other, about 8 % of foot length ahead of the ball. */
const FREE_TOES_FROM = 0.3;

export type GroundKind = 'body' | 'toes';

/** What is known of the foot where a mark may lie. */
export interface Ground {
  kindAt(point: ArrayLike<number>): GroundKind;
  /** Whether a point lies where the toes are free of each other. */
  onFreeToes(point: ArrayLike<number>): boolean;
}

/** The ground of a cast in its foot frame. */
export function groundOf({ medialBall: a, lateralBall: b, footLength }: Landmarks): Ground {
  /** How far a point lies on the way from the line through the ball points to the toe tip. */
  const wayToTip = (point: ArrayLike<number>): number => {
    const x = point[0];
    const y = point[1];
    const share = Math.abs(a[1] - b[1]) < 1 ? 0.5 : Math.min(1, Math.max(0, (y - b[1]) / (a[1] - b[1])));
    const ball = b[0] + share * (a[0] - b[0]);
    return (x - ball) / (footLength - ball);
  };
  return {
    kindAt: (point) => (wayToTip(point) > TOES_FROM ? 'toes' : 'body'),
    onFreeToes: (point) => wayToTip(point) > FREE_TOES_FROM,
  };
}
