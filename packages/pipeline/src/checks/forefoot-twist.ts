import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const FOREFOOT_TWIST = {
  /** Error that stays where all goes well, degrees: for 95 % of generated casts of the tuning range. */
  leastError: 1.5,
  /** Further error where the whole of a seat is made up, degrees. */
  madeUpError: 4,
} as const;

/** The roll of the front of the sole against its rear. */
export function checkForefootTwist(context: CheckContext): CheckPart {
  const { cast, sole } = positionOf(context);
  const named = { id: 'forefoot-twist', label: 'twist of the forefoot', unit: 'deg', wanted: 0, ...context.rules.forefootTwist };
  if (typeof sole === 'string') return { readings: [unread(named, sole)], findings: [] };
  const { planes, slide } = sole;
  const x = (planes.crease + cast.landmarks.footLength) / 2;
  const y = cast.landmarks.ballCentre[1];
  const reading = readingOf({
    ...named,
    value: planes.twist * DEG,
    uncertainty: Math.hypot(FOREFOOT_TWIST.leastError, slide.twist * DEG, FOREFOOT_TWIST.madeUpError * (1 - sole.sure)),
    at: [x, y, planes.front.a * x + planes.front.b * y + planes.front.c],
  });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The forefoot is twisted by ${Math.abs(v).toFixed(1)}° against the heel, ${v > 0 ? 'inner' : 'outer'} edge up; up to ${severity === 'recast' ? reading.recast : reading.care}° may be left. The foot did not stand flat on both edges.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
