import type { ScannerRecord } from './scanner-record.js';
import type { ScannerRules } from '../rules/scanner-rules.js';
import { judgeScanner } from './scanner-verdict.js';

const WORDS = { 'form-error': 'form error', 'size-error': 'size error', 'sphere-spacing-error': 'sphere-spacing error' } as const;

const days = (from: string, to: string): number => Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);

/**
 * What must be said of a cast that was scanned with this scanner on `date` (YYYY-MM-DD): that no check is on record by then,
 * that the last one is too old, or that it was out of limits. The limits are the present rules', so that stricter ones count.
 */
export function scannerWarnings({ scanner, checks }: ScannerRecord, date: string, rules: ScannerRules): string[] {
  const last = checks.filter((c) => c.date <= date).at(-1);
  if (last === undefined) return [`The scanner "${scanner}" has no check on record up to ${date}; nobody knows how true its scans are. Check it with the gauge balls.`];
  const said: string[] = [];
  const age = days(last.date, date);
  if (age > rules.validDays) said.push(`The scanner "${scanner}" was last checked on ${last.date}, ${age} days before; a check is good for ${rules.validDays}. Check it with the gauge balls.`);
  const beyond = judgeScanner(last, rules).judgements.filter((j) => !j.within);
  if (beyond.length > 0) {
    const figures = beyond.map((j) => `${WORDS[j.id]}${j.ball === null ? '' : ` of ball ${j.ball}`} ${j.valueMm.toFixed(2)} mm (limit ${j.limitMm} mm)`).join(', ');
    const percent = 100 * (1 / last.scale.factor - 1);
    const scale = last.scale.significant ? ` Its scans are ${Math.abs(percent).toFixed(2)} % too ${percent > 0 ? 'large' : 'small'}: ${Math.abs(2.5 * percent).toFixed(1)} mm on a girth of 250 mm.` : '';
    said.push(`The scanner "${scanner}" was out of limits when it was checked on ${last.date}: ${figures}.${scale} Every measure of this cast may be off.`);
  }
  return said;
}
