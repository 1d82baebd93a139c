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
  /** Other ways in which the heel seat could as well be taken: where it ends, as shares of foot length. */
  ends: [0.24, 0.3],
  /** Least share of the seat that must have been scanned. */
  leastSure: 0.35,
} as const;

/** The heel seat's own plane against the plane that the cast rests on: a heel that was lifted or tilted off the plate. */
export function checkHeelOnPlate(context: CheckContext): CheckPart {
  const { cast, untouched, level } = positionOf(context);
  const fl = cast.landmarks.footLength;
  const named = { id: 'heel-on-plate', label: 'heel off the plate', unit: 'deg', wanted: 0, ...context.rules.heelOnPlate };
  const seat = contactPlane(cast, between(cast, untouched, -Infinity, HEEL_END * fl));
  if (seat === null || sureContact(cast, seat, -Infinity, HEEL_END * fl) < HEEL_ON_PLATE.leastSure) {
    return { readings: [unread(named, 'Most of the sole under the heel was missing in the scan.')], findings: [] };
  }
  const value = (level.pitch - Math.atan(seat.a)) * DEG;
  const others = HEEL_ON_PLATE.ends.map((end) => contactPlane(cast, between(cast, untouched, -Infinity, end * fl)));
  const moves = others.map((other) => (other === null ? 0 : Math.abs(Math.atan(other.a) - Math.atan(seat.a)) * DEG));
  const reading = readingOf({
    ...named, value, uncertainty: Math.hypot(HEEL_ON_PLATE.leastError, Math.max(...moves) / 2), at: cast.landmarks.heelCentre,
  });
  const finding = weighSurely(
    reading,
    (v, severity) =>
      `The heel seat stands ${Math.abs(v).toFixed(1)}° ${v > 0 ? 'heel up' : 'heel down'} against the plane from heel to ball; up to ${severity === 'recast' ? reading.recast : reading.care}° may be left. The heel did not rest on its plate.`,
  );
  return { readings: [reading], findings: finding === null ? [] : [finding] };
}
