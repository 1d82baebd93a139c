import type { ContactPlane } from '@cast-to-last/foot/position/contact-plane';
import { contactPlane } from '@cast-to-last/foot/position/contact-plane';
import { between } from '@cast-to-last/foot/position/sole-part';
import { sureContact } from '@cast-to-last/foot/position/sure-contact';
import type { CheckContext, CheckPart } from './check-context.js';
import { DEG, HEEL_END, positionOf } from './position.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const HEEL_ON_PLATE = {
  /** Error that stays where all goes well, degrees: for 95 % of generated casts of the tuning range. */
  leastError: 1,
  /**
   * Other ways in which the heel seat could as well be taken: where it ends, as shares of foot length, and what touches its
   * plane, mm. A round heel, which bore no weight, lies on no one plane: these then differ by degrees, on a pressed one by tenths.
   */
  ends: [0.24, 0.3],
  withins: [0.5, 2],
  /** Least share of the seat that must have been scanned. */
  leastSure: 0.35,
} as const;

/** The heel seat's own plane against the plane that the cast rests on: a heel that was lifted or tilted off the plate. */
export function checkHeelOnPlate(context: CheckContext): CheckPart {
  const { cast, untouched, level, besideHeel } = positionOf(context);
  const fl = cast.landmarks.footLength;
  const named = { id: 'heel-on-plate', label: 'heel off the plate', unit: 'deg', wanted: 0, ...context.rules.heelOnPlate };
  const heel = between(cast, untouched, -Infinity, HEEL_END * fl);
  const seat = contactPlane(cast, heel);
  if (seat === null || sureContact(cast, seat, -Infinity, HEEL_END * fl) < HEEL_ON_PLATE.leastSure) {
    return { readings: [unread(named, 'Most of the sole under the heel was missing in the scan.')], findings: [] };
  }
  // What is rounded ahead of a seat that was tilted is no part of it.
  const value = (level.pitch - Math.atan((besideHeel?.seat ?? seat).a)) * DEG;
  const moveTo = (other: ContactPlane | null): number => (other === null ? 0 : Math.abs(Math.atan(other.a) - Math.atan(seat.a)) * DEG);
  const byEnd = HEEL_ON_PLATE.ends.map((end) => moveTo(contactPlane(cast, between(cast, untouched, -Infinity, end * fl))));
  const byTouch = HEEL_ON_PLATE.withins.map((within) => moveTo(contactPlane(cast, heel, within)));
  const reading = readingOf({
    ...named, value, uncertainty: Math.hypot(HEEL_ON_PLATE.leastError, Math.max(...byEnd) / 2, Math.max(...byTouch)), at: cast.landmarks.heelCentre,
  });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The heel seat stands ${Math.abs(v).toFixed(1)}° ${v > 0 ? 'heel up' : 'heel down'} against the plane from heel to ball; up to ${severity === 'recast' ? reading.recast : reading.care}° may be left. The heel did not rest on its plate.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
