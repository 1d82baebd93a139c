import type { Plane } from '../rest-plane.js';
import { restPlaneUnder } from '../rest-plane.js';
import type { StandingCast } from './standing-cast.js';

export const CONTACT = {
  /** What lies this near to the plane touches it, mm. */
  within: 1,
  /** Cosine of the angle up to which the surface faces the plane (45°). */
  facing: Math.SQRT1_2,
  /** Rounds of fitting, and the change of slope below which the plane stays. */
  rounds: 60,
  stays: 1e-5,
  /** Surface that a plane needs to rest on, mm². */
  leastArea: 40,
} as const;

/** A plane on which a part of the sole rests, in the foot frame. */
export interface ContactPlane extends Plane {
  /** The vertices that touch it. */
  readonly touching: Uint32Array;
  /** Surface that touches it, mm². */
  readonly area: number;
}

/**
 * The plane on which a part of the sole rests: the supporting plane of its lower hull under its middle, then least squares
 * through what touches that plane, repeated until it stays.
 *
 * @param part vertices of the part that face down
 * @param within what lies this near to a plane touches it, mm
 * @returns null where too little touches any plane
 */
export function contactPlane(cast: StandingCast, part: Uint32Array, within: number = CONTACT.within): ContactPlane | null {
  const start = supportingPlane(cast, part);
  return start === null ? null : settlePlane(cast, part, start, within);
}

/** How far a vertex lies above a plane, mm. */
export const heightOver = ({ mesh: { positions: p } }: StandingCast, { a, b, c }: Plane, v: number): number =>
  (p[3 * v + 2] - a * p[3 * v] - b * p[3 * v + 1] - c) / Math.sqrt(a * a + b * b + 1);

/** The supporting plane of the part's lower hull under its middle; null where none is carried by three points. */
function supportingPlane({ mesh: { positions: p }, areas }: StandingCast, part: Uint32Array): Plane | null {
  const points = new Float64Array(3 * part.length);
  let x = 0;
  let y = 0;
  let sum = 0;
  for (let i = 0; i < part.length; i++) {
    const v = part[i];
    for (let k = 0; k < 3; k++) points[3 * i + k] = p[3 * v + k];
    x += areas[v] * p[3 * v];
    y += areas[v] * p[3 * v + 1];
    sum += areas[v];
  }
  return sum > 0 ? restPlaneUnder(points, x / sum, y / sum) : null;
}

/** Least squares through what touches a plane, repeated until it stays. */
function settlePlane(cast: StandingCast, part: Uint32Array, start: Plane, within: number): ContactPlane | null {
  let plane = start;
  let touching = touchingVertices(cast, part, plane, within);
  for (let round = 0; round < CONTACT.rounds; round++) {
    const next = leastSquaresPlane(cast, touching);
    if (next === null) return null;
    // A plane that swings between two sets of vertices comes to rest by halved steps.
    const share = round > CONTACT.rounds / 2 ? 0.5 : 1;
    const da = share * (next.a - plane.a);
    const db = share * (next.b - plane.b);
    const dc = share * (next.c - plane.c);
    plane = { a: plane.a + da, b: plane.b + db, c: plane.c + dc };
    touching = touchingVertices(cast, part, plane, within);
    if (Math.abs(da) + Math.abs(db) < CONTACT.stays) break;
  }
  let area = 0;
  for (const v of touching) area += cast.areas[v];
  return area < CONTACT.leastArea ? null : { ...plane, touching, area };
}

function touchingVertices({ mesh: { positions: p }, normals }: StandingCast, part: Uint32Array, { a, b, c }: Plane, within: number): Uint32Array {
  const length = Math.sqrt(a * a + b * b + 1);
  const out = new Uint32Array(part.length);
  let count = 0;
  for (let k = 0; k < part.length; k++) {
    const i = 3 * part[k];
    if (Math.abs(p[i + 2] - a * p[i] - b * p[i + 1] - c) > within * length) continue;
    if (normals[i + 2] - a * normals[i] - b * normals[i + 1] <= -CONTACT.facing * length) out[count++] = part[k];
  }
  return out.slice(0, count);
}

/** The plane z = ax + by + c of least squares through vertices, each with the weight of its area; null where they fix none. */
function leastSquaresPlane({ mesh: { positions: p }, areas }: StandingCast, vertices: Uint32Array): Plane | null {
  let w = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  for (const v of vertices) {
    w += areas[v];
    mx += areas[v] * p[3 * v];
    my += areas[v] * p[3 * v + 1];
    mz += areas[v] * p[3 * v + 2];
  }
  if (!(w > 0)) return null;
  mx /= w;
  my /= w;
  mz /= w;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  for (const v of vertices) {
    const x = p[3 * v] - mx;
    const y = p[3 * v + 1] - my;
    const z = p[3 * v + 2] - mz;
    xx += areas[v] * x * x;
    xy += areas[v] * x * y;
    yy += areas[v] * y * y;
    xz += areas[v] * x * z;
    yz += areas[v] * y * z;
  }
  const determinant = xx * yy - xy * xy;
  // Vertices on one line, or as good as on one, carry no plane.
  if (!(determinant > 1e-6 * (xx + yy) * (xx + yy))) return null;
  const a = (xz * yy - yz * xy) / determinant;
  const b = (yz * xx - xz * xy) / determinant;
  return { a, b, c: mz - a * mx - b * my };
}
