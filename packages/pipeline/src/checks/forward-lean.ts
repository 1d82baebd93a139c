import { sideLine } from '@cast-to-last/foot/position/side-view';
import { stanceFor } from '../rules/check-rules.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, NO_FOOTBED, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const FORWARD_LEAN = {
  /** Error that stays where all goes well, degrees: for 95 % of generated casts of the tuning range. */
  leastError: 0.5,
  /** The line could as well begin this much higher, mm. */
  lift: 4,
  /** Further error where all that the cast rests on is made up, degrees. */
  madeUpError: 0.8,
} as const;

/** Side view: the shank's lean to the toes against the floor's vertical. */
export function checkForwardLean(context: CheckContext): CheckPart {
  const { cast, bed, level, restSure } = positionOf(context);
  const { name, stance } = stanceFor(context.rules, context.casting.discipline);
  const agreed = context.casting.plan?.forwardLeanDeg;
  const limits = bed === null ? { why: NO_FOOTBED } : { wanted: agreed ?? stance.forwardLeanDeg, ...stance.forwardLean };
  const named = { id: 'forward-lean', label: 'forward lean of the shank', unit: 'deg', ...limits };
  const line = sideLine(cast);
  if (line === null) return { readings: [unread(named, 'The cast ends too near above the crook of the ankle.')], findings: [] };
  const value = (line.angle + level.pitch + (bed?.heelPitch ?? 0)) * DEG;
  const higher = sideLine(cast, FORWARD_LEAN.lift);
  const slide = higher === null ? FORWARD_LEAN.lift : Math.abs(higher.angle - line.angle) * DEG;
  const reading = readingOf({ ...named, value, uncertainty: Math.hypot(FORWARD_LEAN.leastError, slide, FORWARD_LEAN.madeUpError * (1 - restSure)), at: [line.at, 0, line.z] });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The shank leans ${Math.abs(v).toFixed(1)}° ${v >= 0 ? 'forward' : 'backward'}; ${agreed === undefined ? `the rules for ${name} want` : 'agreed were'} ${reading.wanted?.toFixed(1)}°, and ${severity === 'recast' ? reading.recast : reading.care}° may differ. The leg stood too far ${v > (reading.wanted ?? 0) ? 'forward' : 'back'} over the foot.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
