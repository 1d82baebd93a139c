import { denseCholesky, solveCholesky } from '@cast-to-last/geometry/numerics/dense-cholesky';
import type { Point } from '../landmarks.js';
import type { Plane } from '../rest-plane.js';
import { CONTACT } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import { SOLE } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const PLATES = {
  /** What lies within twice such a distance has a say, the nearer the more; the distance falls round by round, mm. */
  scales: [1, 0.7, 0.5, 0.35, 0.25, 0.18, 0.13, 0.1, 0.08],
  roundsEach: 5,
  /** A distance at which the plates are read once more, to tell how sure they are, mm. */
  coarse: 0.25,
  /** What lies below a plate counts as so much nearer: a sole rises off its plate, it never reaches through. */
  below: 0.6,
  /** What lies nearer than this to the hinge belongs to neither plate, mm: plaster rounds a corner. */
  clear: 8,
  /** How much the plates of one bed are held level with each other across, as a share of what the front one's own surface says. */
  level: 0.1,
  /** Where the hinge is first looked for, ahead of the inside of the ball, mm, and how much more the front is then bent, radians. */
  ahead: [-15, -5, 5, 15],
  bentMore: [0, (3 * Math.PI) / 180],
  /** What lies this near to a plate was pressed on it, mm, and the surface of the rear and the front one that shows plates, mm² at a foot length, mm. */
  within: 0.3,
  rear: 700,
  front: 350,
  footLength: 260,
} as const;

/** The two plates that flattened a sole, in the foot frame. */
export interface Plates {
  readonly rear: Plane;
  readonly front: Plane;
}

/** Plates with what was read of them at a coarser distance. */
export interface PressedPlates extends Plates {
  readonly coarse: Plates;
}

/** A trial of both plates; the more of the sole lies on them the likelier it is. */
interface Trial extends PressedPlates {
  /** Weighted surface that lies on them, mm². */
  readonly resting: number;
}

/**
 * The plates that a sole was pressed on: the trough of two planes that most of the sole lies in, each vertex on the one that
 * is the higher there. What stands off, as remnants of marks and the rounding at an edge, has the less of a say the farther
 * off it is, at last none. Both hang on one hinge, so they are held about level with each other across.
 *
 * @param sole vertices of the sole that can be leaned on
 * @param planes where to begin
 * @returns null where no wide flat shows on both sides of the hinge
 */
export function pressedPlates(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): PressedPlates | null {
  let best = settleTrough(cast, sole, planes, planes.crease);
  for (const start of startsAround(planes, cast.landmarks.medialBall)) {
    const trial = settleTrough(cast, sole, start, planes.crease);
    if (trial !== null && (best === null || trial.resting > best.resting)) best = trial;
  }
  if (best === null) return null;
  const share = (cast.landmarks.footLength / PLATES.footLength) ** 2;
  const { rear, front, coarse } = best;
  const parting = partingOf(best, planes.crease);
  const shown = areaOn(cast, sole, rear, parting, -1) >= PLATES.rear * share && areaOn(cast, sole, front, parting, 1) >= PLATES.front * share;
  return shown ? { rear, front, coarse } : null;
}

/** Height over the plates, which lie one beside the other as a trough does, mm along z. */
export const heightOverPlates = ({ rear, front }: Plates, x: number, y: number, z: number): number =>
  z - Math.max(heightAt(rear, x, y), heightAt(front, x, y));

const heightAt = ({ a, b, c }: Plane, x: number, y: number): number => a * x + b * y + c;

/** The rear plane with front ones that meet it elsewhere, bent as the front plane is or more. */
function startsAround({ rear, front }: Plates, [ballX, ballY]: Point): Plates[] {
  return PLATES.ahead.flatMap((ahead) =>
    PLATES.bentMore.map((more) => {
      const a = front.a + Math.tan(more);
      const x = ballX + ahead;
      return { rear, front: { a, b: front.b, c: heightAt(rear, x, ballY) - a * x - front.b * ballY } };
    }),
  );
}

/** Where the sole is parted: what lies beyond 0 by more than `clear` belongs to the front plate, what lies as far before it to the rear one. */
interface Parting {
  readonly beyond: Plane;
  readonly clear: number;
}

/** Plates that are bent part where they meet; others at the crease that is given, mm along the foot. */
function partingOf({ rear, front }: Plates, crease: number): Parting {
  const beyond = { a: front.a - rear.a, b: front.b - rear.b, c: front.c - rear.c };
  if (beyond.a < Math.tan(SOLE.leastBend)) return { beyond: { a: 1, b: 0, c: -crease }, clear: PLATES.clear };
  return { beyond, clear: PLATES.clear * Math.hypot(beyond.a, beyond.b) };
}

function settleTrough(cast: StandingCast, sole: Uint32Array, start: Plates, crease: number): Trial | null {
  let plates = start;
  let coarse = start;
  let resting = 0;
  for (const scale of PLATES.scales) {
    for (let round = 0; round < PLATES.roundsEach; round++) {
      const parting = partingOf(plates, crease);
      const rear = sumsOver(cast, sole, plates.rear, parting, -1, 2 * scale);
      const front = sumsOver(cast, sole, plates.front, parting, 1, 2 * scale);
      if (rear[W] < CONTACT.leastArea || front[W] < CONTACT.leastArea) return null;
      const next = moved(plates, rear, front);
      if (next === null) return null;
      plates = next;
      resting = rear[W] + front[W];
    }
    if (scale === PLATES.coarse) coarse = plates;
  }
  return { ...plates, coarse, resting };
}

/** Places in the sums: weight, and the weighted sums of x, y, x², xy, y², height, x · height, y · height. */
const W = 0;
const X = 1;
const Y = 2;
const XX = 3;
const XY = 4;
const YY = 5;
const H = 6;
const XH = 7;
const YH = 8;

/** Sums over what lies on a plate's side of the parting (−1 before, 1 beyond), faces it and lies within reach of it, by Tukey's weights. */
function sumsOver({ mesh: { positions: p }, normals, areas }: StandingCast, sole: Uint32Array, { a, b, c }: Plane, { beyond, clear }: Parting, side: -1 | 1, reach: number): Float64Array {
  const sums = new Float64Array(9);
  const length = Math.sqrt(a * a + b * b + 1);
  for (let k = 0; k < sole.length; k++) {
    const v = sole[k];
    const i = 3 * v;
    const x = p[i];
    const y = p[i + 1];
    if (side * (beyond.a * x + beyond.b * y + beyond.c) < clear) continue;
    const over = p[i + 2] - a * x - b * y - c;
    const share = (over / (length * reach)) * (over < 0 ? PLATES.below : 1);
    if (Math.abs(share) >= 1 || normals[i + 2] - a * normals[i] - b * normals[i + 1] > -CONTACT.facing * length) continue;
    const weight = areas[v] * (1 - share * share) ** 2;
    sums[W] += weight;
    sums[X] += weight * x;
    sums[Y] += weight * y;
    sums[XX] += weight * x * x;
    sums[XY] += weight * x * y;
    sums[YY] += weight * y * y;
    sums[H] += weight * over;
    sums[XH] += weight * x * over;
    sums[YH] += weight * y * over;
  }
  return sums;
}

/** Both plates by least squares over their sums, with a pull of their slopes across towards each other; null where they are not fixed. */
function moved({ rear, front }: Plates, r: Float64Array, f: Float64Array): Plates | null {
  const matrix = new Float64Array(36);
  const right = new Float64Array(6);
  for (const [s, at] of [[r, 0], [f, 3]] as const) {
    const block = [s[XX], s[XY], s[X], s[XY], s[YY], s[Y], s[X], s[Y], s[W]];
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) matrix[6 * (at + i) + at + j] = block[3 * i + j];
    right.set([s[XH], s[YH], s[H]], at);
  }
  const pull = PLATES.level * (f[YY] - (f[Y] * f[Y]) / f[W]);
  const apart = pull * (front.b - rear.b);
  matrix[6 * 1 + 1] += pull;
  matrix[6 * 4 + 4] += pull;
  matrix[6 * 1 + 4] -= pull;
  matrix[6 * 4 + 1] -= pull;
  right[1] += apart;
  right[4] -= apart;
  const factor = denseCholesky(matrix, 6);
  if (factor === null) return null;
  const d = solveCholesky(factor, right);
  return {
    rear: { a: rear.a + d[0], b: rear.b + d[1], c: rear.c + d[2] },
    front: { a: front.a + d[3], b: front.b + d[4], c: front.c + d[5] },
  };
}

/** Surface that was pressed on one of the plates, mm². */
function areaOn({ mesh: { positions: p }, normals, areas }: StandingCast, sole: Uint32Array, { a, b, c }: Plane, { beyond, clear }: Parting, side: -1 | 1): number {
  const length = Math.sqrt(a * a + b * b + 1);
  let sum = 0;
  for (const v of sole) {
    const i = 3 * v;
    if (Math.abs(p[i + 2] - a * p[i] - b * p[i + 1] - c) > PLATES.within * length) continue;
    if (side * (beyond.a * p[i] + beyond.b * p[i + 1] + beyond.c) < clear) continue;
    if (normals[i + 2] - a * normals[i] - b * normals[i + 1] <= -CONTACT.facing * length) sum += areas[v];
  }
  return sum;
}
