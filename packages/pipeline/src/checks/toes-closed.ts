import { frontCut } from '@cast-to-last/foot/position/front-cut';
import type { Finding } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf } from './reading.js';

export const TOES_CLOSED = {
  /** Missing surface of the toes that needs care or a new cast, mm² (common practice, no source). */
  care: 200,
  recast: 400,
  /** A flat of this size across the front is a cut, mm². Generated feet, blunt ones too, have up to 250. */
  cut: 320,
} as const;

/** Whether the toes are closed and inside the cast: no hole in them, and not cut off in front. */
export function checkToesClosed(context: CheckContext): CheckPart {
  const { cast, madeUp } = positionOf(context);
  const [toes] = madeUp.regions;
  const { area: flat, middle } = frontCut(cast);
  const isCut = flat >= TOES_CLOSED.cut;
  const value = toes.area + (isCut ? flat : 0);
  const at = isCut ? middle : (toes.middle ?? cast.landmarks.toeTip);
  const { care, recast } = TOES_CLOSED;
  const reading = readingOf({ id: 'toes-closed', label: 'toes open or cut off', value, unit: 'mm²', wanted: 0, care, recast, at });
  const findings: Finding[] = [];
  if (isCut) {
    findings.push({
      code: 'toes-closed', severity: 'recast', value, limit: TOES_CLOSED.cut, unit: 'mm²', uncertainty: null, at,
      text: `The front of the cast is cut off flat over ${flat.toFixed(0)} mm²: the toes end outside of it, and their length is not known.`,
    });
  } else if (value > care) {
    const severity = value > recast ? 'recast' : 'care';
    const limit = severity === 'recast' ? recast : care;
    findings.push({
      code: 'toes-closed', severity, value, limit, unit: 'mm²', uncertainty: null, at,
      text: `${value.toFixed(0)} mm² of the toes are missing in the scan (${limit} mm² is the limit); their form and length there were made up.`,
    });
  }
  return { readings: [reading], findings };
}
