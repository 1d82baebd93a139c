import type { Finding, Reading } from '../records.js';

/** What a finding says, given its severity and the reading's value. */
export type FindingText = (value: number, severity: Finding['severity']) => string;

/**
 * The finding that a reading makes: its deviation from what is wanted against the limits; null where it is within them or
 * cannot be read. A deviation counts on either side.
 */
export function weigh(reading: Reading, text: FindingText): Finding | null {
  const { id: code, value, uncertainty, unit, wanted, care, recast, at } = reading;
  if (value === null) return null;
  const deviation = Math.abs(value - (wanted ?? 0));
  const beyond = (limit: number | null): boolean => limit !== null && deviation > limit;
  if (!beyond(care) && !beyond(recast)) return null;
  const severity = beyond(recast) ? 'recast' : 'care';
  return { code, severity, value, limit: severity === 'recast' ? recast : care, unit, uncertainty, at, text: text(value, severity) };
}
