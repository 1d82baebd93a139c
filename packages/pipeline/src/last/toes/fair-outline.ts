import type { Wish } from './least-squares.js';
import { leastSquares } from './least-squares.js';
import type { ToeLine } from './toe-frame.js';
import { ahead } from './toe-frame.js';

export const OUTLINE = {
  /** Between the directions in which the outline is known, radians. */
  step: Math.PI / 180,
  /** Least radius that is asked of the outline, mm. */
  radius: 24,
  /** At its ends, beside the ball, the outline runs along the foot, or turns in by at least this, radians. */
  turnIn: 0.14,
  /** Places this near to the start, mm, are the ball's own. */
  ballWithin: 4,
  /** Weight of the way out from the toes, against that of the change of the radius from degree to degree. */
  out: 2e-7,
  /** Weights of the least radius and of holding the toes. */
  radii: 1e3,
  hold: 30,
  /** Weight of holding the toes where the allowance has moved them ahead: the outline may cut a corner there. */
  holdMoved: 3e-3,
} as const;

/** A convex line about the toes seen from above, by its tangents: the one with the outward direction (cos, sin) of `from` + k · step lies `reach[k]` from the origin, mm. */
export interface Outline {
  readonly from: number;
  readonly step: number;
  readonly reach: Float64Array;
}

/**
 * The fairest convex line that holds points seen from above: from the ball's one side round the toes to the other, its radius
 * changing as little from place to place as the points, its least radius and the foremost point allow, which it does not pass.
 *
 * @param foot x, y, z of each point, those from a little behind the start on: they are held
 * @param moved where the allowance puts them, as many: the outline goes about them as near as it is fair, and as far ahead
 */
export function fairOutline(foot: Float64Array, moved: Float64Array, start: ToeLine): Outline {
  const held = supports(foot);
  const wanted = supports(moved);
  const low = endOf(moved, wanted, start, -1);
  const high = endOf(moved, wanted, start, 1);
  const h = OUTLINE.step;
  const own = held.reach.slice(low + held.zero, high + held.zero + 1);
  const least = wanted.reach.slice(low + held.zero, high + held.zero + 1);
  const last = least.length - 1;
  // Radius times h².
  const curve = [1, h * h - 2, 1];
  const change = [-1, 3 - h * h, h * h - 3, 1];
  const wishes: Wish[] = [
    { first: -low, weights: [1], wanted: least[-low], weight: OUTLINE.hold, least: false },
    { first: 0, weights: [1], wanted: least[0], weight: OUTLINE.hold, least: false },
    { first: last, weights: [1], wanted: least[last], weight: OUTLINE.hold, least: false },
    { first: 0, weights: [-1, 1], wanted: wanted.slopeAt(low) * h, weight: OUTLINE.hold, least: false },
    { first: last - 1, weights: [-1, 1], wanted: wanted.slopeAt(high) * h, weight: OUTLINE.hold, least: false },
  ];
  for (let k = 0; k <= last; k++) {
    const at = { first: k, weights: [1] };
    wishes.push({ ...at, wanted: least[k], weight: OUTLINE.out, least: false }, { ...at, wanted: least[k], weight: OUTLINE.holdMoved, least: true }, { ...at, wanted: own[k], weight: OUTLINE.hold, least: true });
    if (k > 1) wishes.push({ first: k - 2, weights: curve, wanted: OUTLINE.radius * h * h, weight: OUTLINE.radii, least: true });
    if (k > 2) wishes.push({ first: k - 3, weights: change, wanted: 0, weight: 1, least: false });
  }
  return { from: low * h, step: h, reach: leastSquares(wishes, least) };
}

/** The radius of an outline at its k-th tangent. */
export const radiusAt = (reach: Float64Array, k: number): number => reach[k] + (reach[k - 1] - 2 * reach[k] + reach[k + 1]) / OUTLINE.step ** 2;

interface Supports {
  /** Which of the directions is straight ahead. */
  readonly zero: number;
  readonly reach: Float64Array;
  /** Where in the points the one that reaches farthest begins. */
  readonly which: Uint32Array;
  /** How fast the reach grows with the direction, mm per radian. */
  slopeAt(direction: number): number;
}

/** How far points reach in each whole step from −150° to 150°, and which does. */
function supports(p: Float64Array): Supports {
  const zero = Math.round((5 * Math.PI) / 6 / OUTLINE.step);
  const reach = new Float64Array(2 * zero + 1).fill(-Infinity);
  const which = new Uint32Array(reach.length);
  for (let k = 0; k < reach.length; k++) {
    const c = Math.cos((k - zero) * OUTLINE.step);
    const s = Math.sin((k - zero) * OUTLINE.step);
    for (let i = 0; i < p.length; i += 3) {
      const r = c * p[i] + s * p[i + 1];
      if (r <= reach[k]) continue;
      reach[k] = r;
      which[k] = i;
    }
  }
  const slopeAt = (direction: number): number => {
    const i = which[direction + zero];
    return -Math.sin(direction * OUTLINE.step) * p[i] + Math.cos(direction * OUTLINE.step) * p[i + 1];
  };
  return { zero, reach, which, slopeAt };
}

/** The direction, in steps, with which the outline begins beside the ball. */
function endOf(p: Float64Array, { zero, which }: Supports, start: ToeLine, side: 1 | -1): number {
  let k = 0;
  while (k < zero && ahead(start, p[which[side * k + zero]], p[which[side * k + zero] + 1]) > OUTLINE.ballWithin) k++;
  return side * Math.min(zero, Math.max(Math.round(Math.PI / 2 / OUTLINE.step), k + Math.round(OUTLINE.turnIn / OUTLINE.step)));
}

/** The points in which an outline touches its tangents, pairs. */
export function outlinePoints({ from, step, reach }: Outline): Float64Array {
  const out = new Float64Array(2 * reach.length);
  for (let k = 0; k < reach.length; k++) {
    const angle = from + k * step;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const a = Math.max(0, k - 1);
    const b = Math.min(reach.length - 1, k + 1);
    const slope = (reach[b] - reach[a]) / ((b - a) * step);
    out[2 * k] = reach[k] * c - slope * s;
    out[2 * k + 1] = reach[k] * s + slope * c;
  }
  return out;
}
