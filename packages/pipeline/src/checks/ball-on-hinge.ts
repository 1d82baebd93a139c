import { isTaken } from '@cast-to-last/foot/measures';
import type { Point } from '@cast-to-last/foot/landmarks';
import type { PressedPlates } from '@cast-to-last/foot/position/plates';
import { plateBend, plateHinge } from '@cast-to-last/foot/position/plates';
import { creaseSkew, hingeAhead, SOLE } from '@cast-to-last/foot/position/sole-planes';
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
  const { planes, plates, slide } = sole;
  const flat = (plates === null ? planes.bend : plateBend(plates)) < SOLE.leastBend;
  // A forefoot that was rolled off its plate tells nothing of the hinge, whatever plates seem to show.
  const value = planes.bend >= SOLE.leastBend && creaseSkew(planes) > SOLE.mostSkew ? null : plates === null ? hingeAhead(planes, medialBall) : plateHinge(plates, medialBall);
  if (value === null) {
    const bend = `${((plates === null ? planes.bend : plateBend(plates)) * DEG).toFixed(1)}°`;
    const why = flat
      ? `The sole bends by ${bend}, too little to show where the hinge was.`
      : `The forefoot is twisted by ${(Math.abs(planes.twist) * DEG).toFixed(1)}° at a bend of ${bend}: the crease runs askew and does not show where the hinge was.`;
    return { readings: [unread(named, why)], findings: [] };
  }
  const x = medialBall[0] + value;
  const rear = plates?.rear ?? planes.rear;
  const at = [x, medialBall[1], rear.a * x + rear.b * medialBall[1] + rear.c] as const;
  const doubt = plates === null ? (slide.hinge ?? Math.abs(value)) : plateDoubt(plates, medialBall);
  const reading = readingOf({ ...named, value, uncertainty: Math.hypot(LEAST_HINGE_ERROR, doubt, ball?.uncertainty ?? 0), at });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The sole bends ${Math.abs(v).toFixed(0)} mm ${v > 0 ? 'ahead of' : 'behind'} the inside of the ball; it should bend under it, and ${severity === 'recast' ? reading.recast : reading.care} mm may differ. The foot stood too far ${v > 0 ? 'back' : 'forward'} on the footbed.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}

/** Height, mm, by which the two plates can be taken wrong where they meet, for 95 % of generated casts of the tuning range: the hinge moves by that over the tangent of their bend. */
const PLATE_HEIGHT_ERROR = 0.35;

/** How far the hinge can have slid: by what the plates moved when they were read more finely, and by their height, mm. */
function plateDoubt(plates: PressedPlates, medialBall: Point): number {
  const [fine, coarse] = [plateHinge(plates, medialBall) ?? 0, plateHinge(plates.coarse, medialBall)];
  return Math.hypot(PLATE_HEIGHT_ERROR / Math.tan(plateBend(plates)), coarse === null ? 0 : (fine - coarse) / 2);
}
