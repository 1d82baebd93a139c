import type { Plates } from './plates.js';
import { bendBetween, SOLE } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const SUPPORT = {
  /** What lies this near to the rear plate was pressed on it, mm. */
  within: 0.15,
  /** Surface that counts as reaching so far, mm². */
  area: 100,
  /** Directions looked in, and the width of a step outwards, mm. */
  directions: 36,
  step: 2,
  /** A plate with a hinge ends there; one without, this far ahead of the ball centre, mm. */
  aheadOfBall: 20,
} as const;

/**
 * How far surface that was pressed on the rear plate reaches beyond the place between heel and ball under which the cast's
 * rest plane is taken, in the direction in which it reaches least, mm: 0 where the cast would tip off this plate.
 *
 * @param sole vertices of the sole that can be leaned on
 */
export function plateSupport({ mesh: { positions: p }, areas, landmarks }: StandingCast, sole: Uint32Array, { rear, front }: Plates): number {
  const { heelCentre: h, ballCentre: b } = landmarks;
  const hinged = bendBetween({ rear, front }) >= SOLE.leastBend;
  const x0 = (h[0] + b[0]) / 2;
  const y0 = (h[1] + b[1]) / 2;
  const pressed = sole.filter((v) => {
    const x = p[3 * v];
    const y = p[3 * v + 1];
    const onRear = rear.a * x + rear.b * y + rear.c;
    if (hinged ? front.a * x + front.b * y + front.c > onRear : x > b[0] + SUPPORT.aheadOfBall) return false;
    return Math.abs(p[3 * v + 2] - onRear) <= SUPPORT.within;
  });
  let least = Infinity;
  const steps = new Float64Array(Math.ceil(landmarks.footLength / SUPPORT.step));
  for (let k = 0; k < SUPPORT.directions; k++) {
    const turn = (2 * Math.PI * k) / SUPPORT.directions;
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    steps.fill(0);
    for (const v of pressed) {
      const far = c * (p[3 * v] - x0) + s * (p[3 * v + 1] - y0);
      if (far > 0) steps[Math.min(steps.length - 1, Math.floor(far / SUPPORT.step))] += areas[v];
    }
    let at = steps.length - 1;
    for (let sum = steps[at]; sum < SUPPORT.area && at > 0; sum += steps[at]) at--;
    least = Math.min(least, at * SUPPORT.step);
  }
  return least;
}
