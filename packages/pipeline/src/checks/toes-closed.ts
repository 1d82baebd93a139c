import { frontCut } from '@cast-to-last/foot/position/front-cut';
import type { Finding } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { frontMadeUp } from './front-made-up.js';
import { positionOf } from './position.js';
import { readingOf } from './reading.js';

export const TOES_CLOSED = {
  /** Missing surface of the toes that needs care, mm² (common practice, no source). */
  care: 200,
  /**
   * It needs a new cast where the toes reach out at the front: where so much of the surface between the toe end and this
   * share of foot length behind it is missing. On generated casts of the tuning range an open front misses 0.45 and more, a
   * hole that the scan left elsewhere on the toes up to 0.06.
   */
  front: 0.03,
  open: 0.3,
  /**
   * A flat of this size across the front is a cut, mm², if it goes on round beyond its edge over no more than so much, mm: on
   * casts of another generator, bandage pressed flat in front has 2.6 and more, a cut 9 mm or more behind the front up to 1.3.
   */
  cut: 200,
  mostRounding: 1.6,
} as const;

/** Whether the toes are closed and inside the cast: no hole in them, and not cut off in front. */
export function checkToesClosed(context: CheckContext): CheckPart {
  const { cast, madeUp } = positionOf(context);
  const [toes] = madeUp.regions;
  const { area: flat, middle, rounding } = frontCut(cast);
  const isCut = flat >= TOES_CLOSED.cut && rounding <= TOES_CLOSED.mostRounding;
  const value = toes.area + (isCut ? flat : 0);
  const at = isCut ? middle : (toes.middle ?? cast.landmarks.toeTip);
  const { care } = TOES_CLOSED;
  const isOpen = !isCut && value > care && frontMadeUp(cast, TOES_CLOSED.front) >= TOES_CLOSED.open;
  const reading = readingOf({ id: 'toes-closed', label: 'toes open or cut off', value, unit: 'mm²', wanted: 0, care, recast: isOpen ? care : null, at });
  const findings: Finding[] = [];
  if (isCut) {
    findings.push({
      code: 'toes-closed', severity: 'recast', value, limit: TOES_CLOSED.cut, unit: 'mm²', uncertainty: null, at,
      text: `The front of the cast is cut off flat over ${flat.toFixed(0)} mm²: the toes end outside of it, and their length is not known.`,
    });
  } else if (value > care) {
    findings.push({
      code: 'toes-closed', severity: isOpen ? 'recast' : 'care', value, limit: care, unit: 'mm²', uncertainty: null, at,
      text: isOpen
        ? `The cast is open in front: ${value.toFixed(0)} mm² of the toes are missing (${care} mm² is the limit). Where they end is not known.`
        : `${value.toFixed(0)} mm² of the toes are missing in the scan (${care} mm² is the limit); their form there was made up. Scan them again if the cast is whole there.`,
    });
  }
  return { readings: [reading], findings };
}
