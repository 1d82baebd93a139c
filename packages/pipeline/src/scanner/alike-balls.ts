/**
 * Balls that differ in diameter by more than this share, and this many mm, are not those of one gauge: no scanner sees two
 * like balls so unlike. Kept wide, so that what a bad scanner makes of them is measured and not left out.
 */
export const ALIKE = { share: 0.03, mm: 0.5 } as const;

/** Two balls that come out unlike by more than this beyond their uncertainties, mm, are told of: about the most size error of a good scanner. */
export const UNLIKE_MM = 0.2;

/** Whether two balls of one gauge come out so unlike that one may be another thing, or the scanner bends what it sees. */
export const comeOutUnlike = (a: SizedBall, b: SizedBall): boolean =>
  Math.abs(a.diameterMm - b.diameterMm) > UNLIKE_MM + Math.hypot(a.fitUncertaintyMm, b.fitUncertaintyMm);

export interface SizedBall {
  readonly diameterMm: number;
  /** Half-width of a 95 % interval, mm. */
  readonly fitUncertaintyMm: number;
}

/** The balls that are as large as the one nearest to the given diameter, in their order; the others are something else, as a door knob or a cap. */
export function alikeBalls<T extends { readonly diameterMm: number }>(balls: readonly T[], given: number): T[] {
  const off = ({ diameterMm }: T): number => Math.abs(diameterMm - given);
  const nearest = balls.reduce<T | null>((best, ball) => (best === null || off(ball) < off(best) ? ball : best), null);
  if (nearest === null) return [];
  const most = Math.max(ALIKE.mm, ALIKE.share * given);
  return balls.filter(({ diameterMm }) => Math.abs(diameterMm - nearest.diameterMm) <= most);
}
