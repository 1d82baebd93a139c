import type { Point } from '@cast-to-last/foot/landmarks';
import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { dot } from '@cast-to-last/geometry/numerics/vectors';

/** A plane that bounds a piece: it holds what has normal · p ≤ offset. */
export interface Face {
  /** Unit, out of the piece. */
  readonly normal: Point;
  readonly offset: number;
}

/** A pin, rail, socket or drain: a body of revolution. */
export interface Bore {
  readonly origin: Point;
  /** Unit. */
  readonly axis: Point;
  /** [mm along the axis, radius mm], rising. */
  readonly profile: readonly (readonly [number, number])[];
}

/** A plane that bounds a piece, with the pins that are added there and the sockets that are taken away. */
export interface Cut {
  readonly face: Face;
  /** Added, but only inside the last. */
  readonly pins: readonly Bore[];
  readonly sockets: readonly Bore[];
}

/** What a piece of the last is to be, foot frame, mm: the last, cut by one plane after the other. */
export interface PiecePlan {
  /** Kebab-case; file names have it. */
  readonly name: string;
  readonly cuts: readonly Cut[];
}

/** The wall of a hollow piece as measured from the hollow's surface to the outside, mm. */
export interface Wall {
  readonly asked: number;
  readonly least: number;
  readonly median: number;
  readonly most: number;
  /** mm³ of the hollow */
  readonly hollow: number;
}

export const along = (origin: Point, axis: Point, by: number): Point => [origin[0] + by * axis[0], origin[1] + by * axis[1], origin[2] + by * axis[2]];

/** The bore with `by` mm more all round, its ends too. */
export function widened({ origin, axis, profile }: Bore, by: number): Bore {
  const last = profile.length - 1;
  return { origin, axis, profile: profile.map(([at, radius], i) => [i === 0 ? at - by : i === last ? at + by : at, radius + by] as const) };
}

/** Distance of a point from a bore, mm, negative inside; exact beside and beyond plain cylinders, a bound near steps. */
export function distanceToBore({ origin, axis, profile }: Bore, p: ArrayLike<number>): number {
  const x = p[0] - origin[0];
  const y = p[1] - origin[1];
  const z = p[2] - origin[2];
  const at = x * axis[0] + y * axis[1] + z * axis[2];
  const off = Math.sqrt(Math.max(0, x * x + y * y + z * z - at * at));
  let widest = 0;
  for (let i = 0; i < profile.length; i++) widest = Math.max(widest, profile[i][1]);
  const beside = off - widest;
  const beyond = Math.max(profile[0][0] - at, at - profile[profile.length - 1][0]);
  return beside > 0 && beyond > 0 ? length2(beside, beyond) : Math.max(beside, beyond);
}

/** The pins, or sockets, that a piece has: of a half, those that the later cuts left it. */
export const boresIn = ({ cuts }: PiecePlan, which: 'pins' | 'sockets'): Bore[] =>
  cuts.flatMap((cut, i) =>
    cut[which].filter(({ origin, axis, profile }) => cuts.slice(i + 1).every(({ face }) => dot(face.normal, along(origin, axis, profile[0][0])) <= face.offset)),
  );
