import type { Finding, Reading } from '../records.js';
import type { FindingText } from './weigh.js';
import { weigh } from './weigh.js';

/**
 * As `weigh`, but a new cast is asked for only where the deviation less its uncertainty still lies beyond that limit: what
 * may as well be within it needs care. A deviation that its uncertainty covers is none.
 */
export function weighSurely(reading: Reading, text: FindingText): Finding | null {
  const found = weigh(reading, text);
  if (found === null || reading.value === null) return null;
  const sure = Math.abs(reading.value - (reading.wanted ?? 0)) - (reading.uncertainty ?? 0);
  if (sure <= 0) return null;
  if (found.severity !== 'recast' || reading.recast === null) return found;
  return sure > reading.recast ? found : { ...found, severity: 'care', limit: reading.care, text: text(reading.value, 'care') };
}
