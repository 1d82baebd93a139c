import { smoothStep } from '../surface/implicit.js';

/** A smooth map of space, changed in place: [x, y, z], mm. */
export type SpaceMap = (p: Float64Array) => void;

export interface Hinge {
  /** Angle that what lies beyond is turned by, radians; from `a` towards `b`. */
  readonly angle: number;
  /** The two axes (0 x, 1 y, 2 z) of the plane that it turns in. */
  readonly a: number;
  readonly b: number;
  /** Where the axis of the hinge crosses that plane. */
  readonly pivot: readonly [number, number];
  /** Direction (of a, b) in which one goes from what stays to what turns, before it is turned; unit. */
  readonly beyond: readonly [number, number];
  /** Over which stretch along that direction the turn sets in, from the pivot: [start, end], mm. */
  readonly blend: readonly [number, number];
}

/**
 * Takes a hinged turn back: a point of the turned foot goes to where it was in the straight one. The stretch in which the
 * turn sets in lies along the middle of both directions, so that it is squeezed on one side as it is drawn out on the other.
 */
export function unturn({ angle, a, b, pivot, beyond, blend }: Hinge): SpaceMap {
  const [ch, sh] = [Math.cos(angle / 2), Math.sin(angle / 2)];
  const middle = [beyond[0] * ch - beyond[1] * sh, beyond[0] * sh + beyond[1] * ch];
  return (p) => {
    const u = p[a] - pivot[0];
    const v = p[b] - pivot[1];
    const share = smoothStep(blend[0], blend[1], u * middle[0] + v * middle[1]);
    if (share === 0) return;
    const c = Math.cos(share * angle);
    const s = Math.sin(share * angle);
    p[a] = pivot[0] + u * c + v * s;
    p[b] = pivot[1] - u * s + v * c;
  };
}
