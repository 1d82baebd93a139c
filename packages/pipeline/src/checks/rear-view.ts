import { rearLine } from '@cast-to-last/foot/position/rear-view';
import { medialSign } from '@cast-to-last/foot/side';
import { stanceFor } from '../rules/check-rules.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const REAR_VIEW = {
  /** Error that stays where a plate carries the cast, and where three points of its sole do, degrees: for 95 % of generated casts of the tuning range. */
  carriedError: 0.5,
  leastError: 1.1,
  /** Further error where all that the cast rests on is made up, degrees: a fill errs by up to 1.8 mm, over some 70 mm. */
  madeUpError: 1.5,
  /** Further error as a share of how far the sole's rear stands askew to what the whole cast rests on: which of them stood level? */
  apartError: 0.1,
} as const;

/** Rear view: the Achilles line against the vertical, upright unless another plan was agreed (common practice, no source). */
export function checkRearView(context: CheckContext): CheckPart {
  const { cast, level, restSure } = positionOf(context);
  const { stance } = stanceFor(context.rules, context.casting.discipline);
  const agreed = context.casting.plan?.rearViewDeg;
  const named = { id: 'rear-view', label: 'lean in the rear view', unit: 'deg', wanted: agreed ?? stance.rearViewDeg, ...stance.rearView };
  const line = rearLine(cast);
  if (line === null) return { readings: [unread(named, 'The cast holds too little of the Achilles tendon.')], findings: [] };
  const value = (line.angle + level.roll) * DEG;
  const leastError = level.carried ? REAR_VIEW.carriedError : REAR_VIEW.leastError;
  const ofLine = (1.96 * line.scatter * Math.sqrt(12)) / line.span / Math.sqrt(Math.max(1, line.count / 4));
  const reading = readingOf({
    ...named, value, uncertainty: Math.hypot(leastError, Math.atan(ofLine) * DEG, REAR_VIEW.madeUpError * (1 - restSure), REAR_VIEW.apartError * level.apart * DEG),
    at: [line.x, medialSign(cast.side) * line.at, line.z],
  });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `Seen from behind, the leg leans ${Math.abs(v).toFixed(1)}° to the ${v >= 0 ? 'inner' : 'outer'} side; ${agreed === undefined ? 'wanted are' : 'agreed were'} ${reading.wanted?.toFixed(1)}°, and ${severity === 'recast' ? reading.recast : reading.care}° may differ. The knee stood too far ${v > (reading.wanted ?? 0) ? 'in' : 'out'}.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
