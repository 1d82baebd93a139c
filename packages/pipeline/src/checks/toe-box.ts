import { toeBox } from '@cast-to-last/foot/position/toe-box';
import type { Finding } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf, unread } from './reading.js';

export const TOE_BOX_CHECK = {
  /** How far the place of the section may lie off with the foot length, and an end of its breadth, mm. */
  place: 1,
  breadth: 1,
  /** Share of the section that may be made up. */
  mostMadeUp: 0.5,
} as const;

/** Toes squeezed or bound: the breadth of the toe box and of the toes' spread against the ball width. */
export function checkToeBox(context: CheckContext): CheckPart {
  const { cast } = positionOf(context);
  const { care, recast } = context.rules.toeBox;
  const ofBox = { id: 'toe-box', label: 'toe box against the ball', unit: '', care, recast };
  const ofSpread = { id: 'toe-spread', label: 'toes near the tips against the ball', unit: '' };
  const found = toeBox(cast);
  if (found === null || found.unsure > TOE_BOX_CHECK.mostMadeUp) {
    return { readings: [ofBox, ofSpread].map((named) => unread(named, 'The toes are missing in the scan.')), findings: [] };
  }
  const error = (slope: number): number => Math.hypot(TOE_BOX_CHECK.breadth / found.ballWidth, TOE_BOX_CHECK.place * slope, found.unsure * 0.2);
  const [a, b] = found.ends;
  const at = [a[0], (a[1] + b[1]) / 2, Math.max(a[2], b[2])] as const;
  const box = readingOf({ ...ofBox, value: found.box, uncertainty: error(found.boxSlope), at });
  const spread = readingOf({ ...ofSpread, value: found.spread, uncertainty: error(found.spreadSlope), at });
  const findings: Finding[] = [];
  if (found.box < care) {
    const severity = found.box < recast ? 'recast' : 'care';
    const limit = severity === 'recast' ? recast : care;
    findings.push({
      code: 'toe-box', severity, value: found.box, limit, unit: '', uncertainty: box.uncertainty, at,
      text: `The toes are ${(100 * found.box).toFixed(0)} % as broad as the ball; less than ${(100 * limit).toFixed(0)} % looks squeezed or bound. A last from it would press the toes.`,
    });
  }
  return { readings: [box, spread], findings };
}
