import { soleFlatness } from '@cast-to-last/foot/position/sole-flatness';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const SOLE_FLATNESS = {
  /** Error that stays where all goes well, mm: for 95 % of generated casts of the tuning range. */
  leastError: 0.3,
  /** Further error as a share of the value: what lies beside a seat and what on it is a matter of some millimetres. */
  shareError: 0.5,
} as const;

/** How far the sole departs from its planes where it shall lie on the plates. */
export function checkSoleFlatness(context: CheckContext): CheckPart {
  const { cast, vertices, sole } = positionOf(context);
  const named = { id: 'sole-flatness', label: 'sole off its planes', unit: 'mm', wanted: 0, ...context.rules.soleFlatness };
  const found = typeof sole === 'string' ? null : soleFlatness(cast, vertices, sole.planes);
  if (typeof sole === 'string' || found === null) {
    return { readings: [unread(named, typeof sole === 'string' ? sole : 'The sole was missing in the scan.')], findings: [] };
  }
  const reading = readingOf({ ...named, value: found.rms, uncertainty: Math.hypot(SOLE_FLATNESS.leastError, SOLE_FLATNESS.shareError * found.rms, 1 - sole.sure), at: found.worst });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The sole is not flat where it should lie on the plates: it departs from them by ${v.toFixed(1)} mm RMS, ${severity === 'recast' ? reading.recast : reading.care} mm may be left. The foot hung or slipped while the plaster set.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
