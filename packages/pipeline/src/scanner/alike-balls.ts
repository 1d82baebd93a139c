/**
 * Balls that differ in diameter by more than this share, and this many mm, are not those of one gauge: no scanner sees two
 * like balls so unlike. Kept wide, so that what a bad scanner makes of them is measured and not left out.
 */
export const ALIKE = { share: 0.03, mm: 0.5 } as const;

/** The balls that are as large as the one nearest to the given diameter, in their order; the others are something else, as a door knob or a cap. */
export function alikeBalls<T extends { readonly diameterMm: number }>(balls: readonly T[], given: number): T[] {
  const off = ({ diameterMm }: T): number => Math.abs(diameterMm - given);
  const nearest = balls.reduce<T | null>((best, ball) => (best === null || off(ball) < off(best) ? ball : best), null);
  if (nearest === null) return [];
  const most = Math.max(ALIKE.mm, ALIKE.share * given);
  return balls.filter(({ diameterMm }) => Math.abs(diameterMm - nearest.diameterMm) <= most);
}
