import type { Finding, Reading } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, NO_FOOTBED, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const SOLE_BEND = {
  /** Error that stays where all goes well, degrees: for 95 % of generated casts of the tuning range. */
  leastError: 0.7,
  /** Further error where the whole of a seat is made up, degrees. */
  madeUpError: 3,
} as const;

/** The angle between the sole's planes against the footbed's, and what follows from it for heel pitch and toe pitch. */
export function checkSoleBend(context: CheckContext): CheckPart {
  const { cast, sole, bed } = positionOf(context);
  const theta = bed === null ? null : bed.heelPitch * DEG;
  const tau = bed === null ? null : bed.toePitch * DEG;
  const why = bed === null ? NO_FOOTBED : '';
  const limits = bed === null ? {} : context.rules.soleBend;
  const bent = { id: 'sole-bend', label: 'bend of the sole', unit: 'deg', wanted: bed === null ? null : bed.bend * DEG, ...limits, why };
  const heel = { id: 'heel-pitch', label: 'heel pitch', unit: 'deg', wanted: theta, why };
  const toe = { id: 'toe-pitch', label: 'toe pitch', unit: 'deg', wanted: tau, why };
  if (typeof sole === 'string') return { readings: [bent, heel, toe].map((named) => unread(named, sole)), findings: [] };
  const { planes, hinged } = sole;
  const bend = hinged.bend * DEG;
  const y = cast.landmarks.ballCentre[1];
  const read = {
    uncertainty: Math.hypot(SOLE_BEND.leastError, hinged.bendDoubt * DEG, SOLE_BEND.madeUpError * (1 - sole.sure)),
    at: [planes.crease, y, planes.rear.a * planes.crease + planes.rear.b * y + planes.rear.c] as const,
  };
  const readings = [
    readingOf({ ...bent, ...read, value: bend }),
    readingOf({ ...heel, ...read, value: tau === null ? null : bend - tau }),
    readingOf({ ...toe, ...read, value: theta === null ? null : bend - theta }),
  ];
  const finding = weighSurely(readings[0], (value, severity) => textOf(value, severity, readings));
  return { readings, findings: finding === null ? [] : [finding] };
}

function textOf(value: number, severity: Finding['severity'], [bent, heel, toe]: readonly Reading[]): string {
  const limit = severity === 'recast' ? bent.recast : bent.care;
  const more = value > (bent.wanted ?? 0);
  return (
    `The sole is bent by ${value.toFixed(1)}° where the footbed bends by ${bent.wanted?.toFixed(1)}°, ${more ? 'more' : 'less'} than the ${limit}° that may differ. ` +
    `Either the heel stood at ${heel.value?.toFixed(1)}° instead of ${heel.wanted?.toFixed(1)}°, or the toes at ${toe.value?.toFixed(1)}° instead of ${toe.wanted?.toFixed(1)}°.`
  );
}
