import { isTaken } from '@cast-to-last/foot/measures';
import { SOLE } from '@cast-to-last/foot/position/sole-planes';
import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, NO_FOOTBED, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

/** Error that stays where all goes well, mm: for 95 % of generated casts of the tuning range. */
export const LEAST_HINGE_ERROR = 1.5;

/** The crease between the sole's planes against the inside of the ball: at it (common practice, no source). */
export function checkBallOnHinge(context: CheckContext): CheckPart {
  const { cast, sole, bed } = positionOf(context);
  const { medialBall } = cast.landmarks;
  const ball = context.measured.measurements.filter(isTaken).find(({ id }) => id === 'medial-ball-length');
  const limits = bed === null ? { why: NO_FOOTBED } : { wanted: 0, ...context.rules.ballOnHinge };
  const named = { id: 'ball-on-hinge', label: 'hinge ahead of the inside of the ball', unit: 'mm', ...limits };
  if (typeof sole === 'string') return { readings: [unread(named, sole)], findings: [] };
  const { planes, hinged } = sole;
  if (hinged.ahead === null) {
    const bend = `${(hinged.bend * DEG).toFixed(1)}°`;
    const why =
      hinged.bend < SOLE.leastBend
        ? `The sole bends by ${bend}, too little to show where the hinge was.`
        : `The forefoot is twisted by ${(Math.abs(planes.twist) * DEG).toFixed(1)}° at a bend of ${bend}: the crease runs askew and does not show where the hinge was.`;
    return { readings: [unread(named, why)], findings: [] };
  }
  const x = medialBall[0] + hinged.ahead;
  const at = [x, medialBall[1], hinged.rear.a * x + hinged.rear.b * medialBall[1] + hinged.rear.c] as const;
  const reading = readingOf({ ...named, value: hinged.ahead, uncertainty: Math.hypot(LEAST_HINGE_ERROR, hinged.aheadDoubt, ball?.uncertainty ?? 0), at });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The sole bends ${Math.abs(v).toFixed(0)} mm ${v > 0 ? 'ahead of' : 'behind'} the inside of the ball; it should bend under it, and ${severity === 'recast' ? reading.recast : reading.care} mm may differ. The foot stood too far ${v > 0 ? 'back' : 'forward'} on the footbed.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
