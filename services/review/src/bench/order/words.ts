import type { CastState, Verdict } from '../../server/results.js';
import type { ReportedMark } from '@cast-to-last/pipeline/report/report';

export const SIDE_WORDS = { left: 'Left', right: 'Right' } as const;
export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = { usable: 'usable', 'usable-with-care': 'usable with care', recast: 'cast again' };
export const VERDICT_TONE: Readonly<Record<Verdict, 'good' | 'care' | 'bad'>> = { usable: 'good', 'usable-with-care': 'care', recast: 'bad' };
export const STATE_WORDS: Readonly<Record<CastState, string>> = {
  'awaiting-scan': 'waits for its scan', 'in-work': 'is being made', 'to-review': 'waits for your decision', approved: 'approved', 'sent-back': 'sent back', recast: 'to be cast again',
};
export const BODY_WORDS = { scan: 'scan', cleaned: 'cleaned cast', last: 'last' } as const;
export const DECISION_WORDS: Readonly<Record<ReportedMark['decision'], string>> = { ask: 'asks', smooth: 'smoothed', keep: 'kept' };
export const mm = (value: number, digits = 1): string => value.toFixed(digits).replace('-', '−');
export const signedMm = (value: number, digits = 1): string => `${value > 0 ? '+' : ''}${mm(value, digits)}`;
/** How long ago, in the largest unit that fits. */
export function ago(instant: string): string {
  const minutes = Math.max(0, (Date.now() - Date.parse(instant)) / 60_000);
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${Math.round(minutes)} min`;
  if (minutes < 48 * 60) return `${Math.round(minutes / 60)} h`;
  return `${Math.round(minutes / 1440)} days`;
}
