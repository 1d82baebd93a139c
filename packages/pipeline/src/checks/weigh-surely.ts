import type { Finding, Reading } from '../records.js';
import type { FindingText } from './weigh.js';
import { weigh } from './weigh.js';

/**
 * As `weigh`, but a new cast is asked for only where the deviation less its uncertainty still lies beyond that limit: what
 * may as well be within it needs care.
 */
export function weighSurely(reading: Reading, text: FindingText): Finding | null {
  const found = weigh(reading, text);
  if (found?.severity !== 'recast' || reading.value === null || reading.recast === null) return found;
  const sure = Math.abs(reading.value - (reading.wanted ?? 0)) - (reading.uncertainty ?? 0);
  return sure > reading.recast ? found : { ...found, severity: 'care', limit: reading.care, text: text(reading.value, 'care') };
}
