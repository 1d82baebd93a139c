import { beyondToes } from '@cast-to-last/foot/position/beyond-toes';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf } from './reading.js';
import { weighSurely } from './weigh-surely.js';

/** An over-long bandage folded over beyond the toes: how far it makes the cast longer than the foot. */
export function checkBeyondToes(context: CheckContext): CheckPart {
  const { cast } = positionOf(context);
  const { length, uncertainty } = beyondToes(cast);
  const reading = readingOf({
    id: 'beyond-toes', label: 'plaster beyond the toes', value: length, uncertainty, unit: 'mm', wanted: 0, ...context.rules.beyondToes, at: cast.landmarks.toeTip,
  });
  const foot = cast.landmarks.footLength - length;
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `A fold of bandage reaches about ${v.toFixed(0)} mm beyond the toes (${severity === 'recast' ? reading.recast : reading.care} mm is the limit). The foot itself is about ${foot.toFixed(0)} mm long, known to ${uncertainty.toFixed(0)} mm; the foot length measured is that of the fold.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
