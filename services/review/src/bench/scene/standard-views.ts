import type { Look } from './stage.js';

export interface StandardView {
  readonly key: string;
  readonly name: string;
  readonly look: Pick<Look, 'turn' | 'rise'>;
}

/** Views that the trade names, by the key that calls them. */
export const STANDARD_VIEWS: readonly StandardView[] = [
  { key: '1', name: 'standing', look: { turn: 2.4, rise: 0.45 } },
  { key: '2', name: 'top', look: { turn: 0, rise: Math.PI / 2 } },
  { key: '3', name: 'sole', look: { turn: Math.PI, rise: -Math.PI / 2 } },
  { key: '4', name: 'outer side', look: { turn: Math.PI / 2, rise: 0 } },
  { key: '5', name: 'inner side', look: { turn: -Math.PI / 2, rise: 0 } },
  { key: '6', name: 'heel', look: { turn: 0, rise: 0 } },
  { key: '7', name: 'toes', look: { turn: Math.PI, rise: 0 } },
];

/** The view in words, for those who do not see it. */
export function viewInWords({ turn, rise, near }: Look): string {
  const round = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle));
  const named = STANDARD_VIEWS.find(({ look }) => Math.abs(round(look.turn - turn)) < 0.02 && Math.abs(look.rise - rise) < 0.02);
  const seen = named === undefined ? `turned ${Math.round((round(turn) * 180) / Math.PI)}°, from ${Math.round((rise * 180) / Math.PI)}° above` : named.name;
  return near > 1.05 ? `${seen}, ${near.toFixed(1)} times nearer` : seen;
}
