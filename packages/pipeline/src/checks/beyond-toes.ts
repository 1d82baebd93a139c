import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

/** The front of the cast that must have been scanned, share of foot length, and the share of its surface that may be made up. */
export const TOE_FRONT = { depth: 0.06, mostMadeUp: 0.5 } as const;

/** An over-long bandage folded over beyond the toes: how far it makes the cast longer than the foot. */
export function checkBeyondToes(context: CheckContext): CheckPart {
  const { cast, beyond: found } = positionOf(context);
  const named = { id: 'beyond-toes', label: 'plaster beyond the toes', unit: 'mm', wanted: 0, ...context.rules.beyondToes };
  if (frontMadeUp(cast) > TOE_FRONT.mostMadeUp) return { readings: [unread(named, 'The front of the toes is missing in the scan.')], findings: [] };
  if (found === null) {
    const at = cast.landmarks.toeTip;
    const hidden = {
      code: 'toes-hidden', severity: 'note', value: null, limit: null, unit: 'mm', uncertainty: null, at,
      text: 'The toes do not show under the plaster. How far it reaches beyond them cannot be told; the foot may be shorter than was measured.',
    } as const;
    return { readings: [unread({ ...named, at }, 'The toes do not show under the plaster.')], findings: [hidden] };
  }
  const { length, uncertainty } = found;
  const reading = readingOf({ ...named, value: length, uncertainty, at: cast.landmarks.toeTip });
  const foot = cast.landmarks.footLength - length;
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `A fold of bandage reaches about ${v.toFixed(0)} mm beyond the toes (${severity === 'recast' ? reading.recast : reading.care} mm is the limit). The foot itself is about ${foot.toFixed(0)} mm long, known to ${uncertainty.toFixed(0)} mm; the foot length measured is that of the fold.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}

/** Share of the front of the toes that repair made. */
function frontMadeUp({ mesh: { positions: p }, areas, unsure, landmarks }: StandingCast): number {
  const from = landmarks.toeTip[0] - TOE_FRONT.depth * landmarks.footLength;
  let [all, made] = [0, 0];
  for (let v = 0; v < areas.length; v++) {
    if (p[3 * v] < from) continue;
    all += areas[v];
    if (unsure[v] === 1) made += areas[v];
  }
  return all === 0 ? 0 : made / all;
}
