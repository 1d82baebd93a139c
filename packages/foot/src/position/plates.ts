import type { Plane } from '../rest-plane.js';
import { CONTACT } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import { SOLE } from './sole-planes.js';
import { between } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const PLATES = {
  /** What lies within twice such a distance has a say, the nearer the more; the distance falls round by round, mm. */
  scales: [1, 0.7, 0.5, 0.35, 0.25, 0.2],
  roundsEach: 4,
  /** What lies this near to a plate was pressed on it, mm, and the surface of the rear and the front one that shows plates, mm² at a foot length, mm. */
  within: 0.3,
  rear: 1300,
  front: 700,
  footLength: 260,
} as const;

/** The two plates that flattened a sole, in the foot frame. */
export interface Plates {
  readonly rear: Plane;
  readonly front: Plane;
}

/**
 * The plates that a sole was pressed on. A plate is where most of the surface lies in one plane: what stands off it, as
 * remnants of marks and the rounding at its edge, has the less of a say the farther off it is, at last none.
 *
 * @param sole vertices of the sole that can be leaned on
 * @param planes where to begin
 * @returns null where no wide flat shows on both sides of the crease
 */
export function pressedPlates(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): Plates | null {
  const rear = plateOf(cast, between(cast, sole, -Infinity, planes.crease - SOLE.margin), planes.rear, PLATES.rear);
  const front = plateOf(cast, between(cast, sole, planes.crease + SOLE.margin, Infinity), planes.front, PLATES.front);
  return rear === null || front === null ? null : { rear, front };
}

/** Height over the plates, which lie one beside the other as a trough does, mm along z. */
export const heightOverPlates = ({ rear, front }: Plates, x: number, y: number, z: number): number =>
  z - Math.max(rear.a * x + rear.b * y + rear.c, front.a * x + front.b * y + front.c);

function plateOf(cast: StandingCast, part: Uint32Array, start: Plane, least: number): Plane | null {
  let plane: Plane | null = start;
  for (const scale of PLATES.scales) {
    for (let round = 0; round < PLATES.roundsEach && plane !== null; round++) plane = weightedPlane(cast, part, plane, 2 * scale);
  }
  return plane !== null && areaOn(cast, part, plane) >= least * (cast.landmarks.footLength / PLATES.footLength) ** 2 ? plane : null;
}

/** Least squares in which what lies farther from `plane` counts less, and nothing beyond `reach` (Tukey's weights). */
function weightedPlane({ mesh: { positions: p }, normals, areas }: StandingCast, part: Uint32Array, { a, b, c }: Plane, reach: number): Plane | null {
  const length = Math.sqrt(a * a + b * b + 1);
  let w = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  for (const v of part) {
    const i = 3 * v;
    const x = p[i];
    const y = p[i + 1];
    const over = p[i + 2] - a * x - b * y - c;
    const share = over / (length * reach);
    if (Math.abs(share) >= 1 || normals[i + 2] - a * normals[i] - b * normals[i + 1] > -CONTACT.facing * length) continue;
    const weight = areas[v] * (1 - share * share) ** 2;
    w += weight;
    mx += weight * x;
    my += weight * y;
    mz += weight * over;
    xx += weight * x * x;
    xy += weight * x * y;
    yy += weight * y * y;
    xz += weight * x * over;
    yz += weight * y * over;
  }
  if (w < CONTACT.leastArea) return null;
  mx = mx / w;
  my = my / w;
  mz = mz / w;
  xx = xx / w - mx * mx;
  xy = xy / w - mx * my;
  yy = yy / w - my * my;
  xz = xz / w - mx * mz;
  yz = yz / w - my * mz;
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-6 * (xx + yy) * (xx + yy))) return null;
  const da = (xz * yy - yz * xy) / determinant;
  const db = (yz * xx - xz * xy) / determinant;
  return { a: a + da, b: b + db, c: c + mz - da * mx - db * my };
}

function areaOn({ mesh: { positions: p }, normals, areas }: StandingCast, part: Uint32Array, { a, b, c }: Plane): number {
  const length = Math.sqrt(a * a + b * b + 1);
  let sum = 0;
  for (const v of part) {
    const i = 3 * v;
    if (Math.abs(p[i + 2] - a * p[i] - b * p[i + 1] - c) > PLATES.within * length) continue;
    if (normals[i + 2] - a * normals[i] - b * normals[i + 1] <= -CONTACT.facing * length) sum += areas[v];
  }
  return sum;
}
