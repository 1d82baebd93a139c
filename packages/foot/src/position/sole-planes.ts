import type { Point } from '../landmarks.js';
import { medialSign } from '../side.js';
import type { Plane } from '../rest-plane.js';
import type { ContactPlane } from './contact-plane.js';
import { CONTACT, contactPlane, heightOver } from './contact-plane.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

export const SOLE = {
  /** What lies nearer than this to the crease belongs to neither plane, mm. */
  margin: 8,
  /** Planes that meet at less than this have no crease that could be told, radians. */
  leastBend: (4 * Math.PI) / 180,
  /** Nor have those whose crease runs farther askew than this, mm along the foot for each mm across: a twist makes it, no hinge. */
  mostSkew: 0.35,
  /** The crease is sought between these shares of foot length. */
  creaseFrom: 0.55,
  creaseTo: 0.86,
  /** Rounds in which the crease settles, and the step that ends them, mm. */
  rounds: 10,
  settled: 0.05,
  /**
   * A foot that stood far off the hinge may settle parted in the wrong place: others to begin at, mm from the ball centre, and
   * by which factor more of the sole must lie on both planes then (nearer than `rests`, mm); rounds in which that shows.
   */
  others: [-20, 20, 35],
  more: 1.06,
  rests: 0.5,
  roundsToShow: 4,
} as const;

/** The two planes that the sole rests on. Angles in radians. */
export interface SolePlanes {
  readonly rear: ContactPlane;
  readonly front: ContactPlane;
  /** About Y, front rising to the toes positive. */
  readonly bend: number;
  /** Roll of the front about X against the rear, inner edge up positive. */
  readonly twist: number;
  /** Where the sole was parted: where the planes meet at the breadth of the inside of the ball, or the ball centre where they hardly meet. */
  readonly crease: number;
}

export interface SoleOptions {
  /** mm; default SOLE.margin */
  readonly margin?: number;
  /** mm; default CONTACT.within */
  readonly within?: number;
  /** Where the crease is first taken to be, mm; default the ball centre. */
  readonly start?: number;
  /** Default SOLE.rounds */
  readonly rounds?: number;
}

/**
 * The planes of the sole behind and ahead of the crease in which they meet.
 *
 * @param sole vertices of the sole that can be leaned on
 * @returns null where a part of the sole rests on no plane
 */
export function solePlanes(cast: StandingCast, sole: Uint32Array, options: SoleOptions = {}): SolePlanes | null {
  const { ballCentre } = cast.landmarks;
  if (options.start !== undefined) return settlePlanes(cast, sole, options.start, options);
  const first = settlePlanes(cast, sole, ballCentre[0], options);
  let best = first;
  let most = SOLE.more * restingArea(cast, first);
  for (const from of SOLE.others) {
    const other = settlePlanes(cast, sole, ballCentre[0] + from, { ...options, rounds: SOLE.roundsToShow });
    const area = restingArea(cast, other);
    if (other !== null && other.bend >= SOLE.leastBend && area > most) {
      best = other;
      most = area;
    }
  }
  return best === null || best === first ? first : settlePlanes(cast, sole, best.crease, options);
}

function settlePlanes(cast: StandingCast, sole: Uint32Array, start: number, options: SoleOptions): SolePlanes | null {
  const { footLength, ballCentre, medialBall } = cast.landmarks;
  const { margin = SOLE.margin, within = CONTACT.within, rounds = SOLE.rounds } = options;
  let crease = start;
  let found: SolePlanes | null = null;
  for (let round = 0; round < rounds; round++) {
    const rear = contactPlane(cast, between(cast, sole, -Infinity, crease - margin), within);
    const front = contactPlane(cast, between(cast, sole, crease + margin, Infinity), within);
    if (rear === null || front === null) return found;
    const bend = bendBetween({ rear, front });
    const twist = medialSign(cast.side) * (Math.atan(front.b) - Math.atan(rear.b));
    const meet = bend < SOLE.leastBend ? ballCentre[0] : creaseAt({ rear, front }, medialBall[1]);
    const next = Math.max(SOLE.creaseFrom * footLength, Math.min(SOLE.creaseTo * footLength, meet));
    found = { rear, front, bend, twist, crease };
    const step = next - crease;
    if (Math.abs(step) < SOLE.settled) break;
    // A crease that swings between two sets of vertices comes to rest by halved steps.
    crease += round > rounds / 2 ? step / 2 : step;
  }
  return found;
}

/** Surface of the sole that lies on the two planes, mm². */
function restingArea(cast: StandingCast, planes: SolePlanes | null): number {
  if (planes === null) return 0;
  let sum = 0;
  for (const plane of [planes.rear, planes.front]) {
    for (const v of plane.touching) if (Math.abs(heightOver(cast, plane, v)) <= SOLE.rests) sum += cast.areas[v];
  }
  return sum;
}

/** Two planes, one behind the other. */
interface Pair {
  readonly rear: Plane;
  readonly front: Plane;
}

/** Angle between two planes about Y, front rising to the toes positive, radians. */
export const bendBetween = ({ rear, front }: Pair): number => Math.atan(front.a) - Math.atan(rear.a);

/** x at which the planes meet at the breadth y. */
const creaseAt = ({ rear, front }: Pair, y: number): number => -((rear.b - front.b) * y + rear.c - front.c) / (rear.a - front.a);

/** How far the crease runs askew, mm along the foot for each mm across. */
export const creaseSkew = ({ rear, front }: Pair): number => Math.abs((rear.b - front.b) / (rear.a - front.a));

/** How far the planes' crease lies ahead of the inside of the ball, at its breadth, mm; null where they are bent too little to tell. */
export const creaseAhead = (pair: Pair, medialBall: Point): number | null =>
  bendBetween(pair) < SOLE.leastBend ? null : creaseAt(pair, medialBall[1]) - medialBall[0];

/** The same for the planes of a sole; null, too, where the crease runs too far askew to be one of a hinge. */
export const hingeAhead = (planes: SolePlanes, medialBall: Point): number | null =>
  creaseSkew(planes) > SOLE.mostSkew ? null : creaseAhead(planes, medialBall);
