import { beyondWhereHidden } from '@cast-to-last/foot/position/beyond-toes';
import type { CheckContext, CheckPart } from './check-context.js';
import { frontMadeUp } from './front-made-up.js';
import { positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

/** The front of the cast that must have been scanned, share of foot length, and the share of its surface that may be made up. */
export const TOE_FRONT = { depth: 0.06, mostMadeUp: 0.5 } as const;

/** An over-long bandage folded over beyond the toes: how far it makes the cast longer than the foot. */
export function checkBeyondToes(context: CheckContext): CheckPart {
  const { cast, beyond: found } = positionOf(context);
  const named = { id: 'beyond-toes', label: 'plaster beyond the toes', unit: 'mm', wanted: 0, ...context.rules.beyondToes };
  if (frontMadeUp(cast, TOE_FRONT.depth) > TOE_FRONT.mostMadeUp) return { readings: [unread(named, 'The front of the toes is missing in the scan.')], findings: [] };
  if (found === null) {
    const at = cast.landmarks.toeTip;
    const { uncertainty, ...byBall } = beyondWhereHidden(cast);
    const length = Math.max(0, byBall.length);
    const why = 'The toes do not show under the plaster; how far it reaches beyond them follows from where the ball lies, as in most feet (ANSUR II).';
    const hidden = {
      code: 'toes-hidden', severity: 'note', value: length, limit: null, unit: 'mm', uncertainty, at,
      text: `The toes do not show under the plaster. By where the ball lies it reaches about ${length.toFixed(0)} mm beyond them, give or take ${uncertainty.toFixed(0)} mm: the foot is about ${(cast.landmarks.footLength - length).toFixed(0)} mm long, not ${cast.landmarks.footLength.toFixed(0)} mm as measured.`,
    } as const;
    return { readings: [readingOf({ ...named, value: length, uncertainty, why, at })], findings: [hidden] };
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
