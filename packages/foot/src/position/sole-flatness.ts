import type { Landmarks, Point } from '../landmarks.js';
import { medialSign } from '../side.js';
import { heightOver } from './contact-plane.js';
import type { SolePlanes } from './sole-planes.js';
import type { StandingCast } from './standing-cast.js';
import { aheadOfBallLine } from '../ball-line.js';

/**
 * Where a sole that stands on plates lies on them, by eye on generated feet; the arch, all edges and the hollow behind the
 * toes are left out. Along the foot in shares of its length, for the ball from the line through the ball points; across in
 * shares of the sole's breadth there from the outer edge to the inner.
 */
export const SEATS = {
  heel: { from: 0.08, to: 0.2, outer: 0.25, inner: 0.75 },
  outerBorder: { from: 0.2, to: 0.55, outer: 0.2, inner: 0.4 },
  ball: { from: -0.035, to: 0.025, outer: 0.2, inner: 0.8 },
  toes: { from: 0.1, to: 0.24, outer: 0.15, inner: 0.85 },
} as const;

export const FLATNESS = {
  /** The sole's breadth is that of what lies this near to its plane, mm. */
  edge: 8,
  /** Surface steeper than this against the plane is the side of a toe or of the foot (cosine). */
  facing: 0.8,
  /** Step along the foot in which the breadth is taken, mm. */
  row: 4,
  /** Breadth of the strips in each of which the toe pads are what lies lowest, and how far above that a pad reaches, mm. */
  strip: 6,
  pad: 1,
} as const;

export interface SoleFlatness {
  /** Root of the mean square of the distances from the planes, mm. */
  readonly rms: number;
  /** The farthest place. */
  readonly worst: Point;
  /** Surface that it was read from, mm². */
  readonly area: number;
}

/**
 * How far the sole departs from its two planes where it shall lie on them.
 *
 * @param sole vertices of the sole that can be leaned on
 * @returns null where nothing of it is left to tell
 */
export function soleFlatness(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): SoleFlatness | null {
  const { mesh: { positions: p }, normals, areas, landmarks } = cast;
  const across = acrossSole(cast, sole, planes);
  const seated: { v: number; over: number; strip: number }[] = [];
  const lowest = new Map<number, number>();
  for (const v of sole) {
    if (normals[3 * v + 2] > -FLATNESS.facing) continue;
    const seat = seatAt(p[3 * v], p[3 * v + 1], across(v), landmarks);
    if (seat === null) continue;
    const over = heightOver(cast, planeAt(planes, p[3 * v]), v);
    const strip = seat === 'toes' ? Math.floor(p[3 * v + 1] / FLATNESS.strip) : NaN;
    if (seat === 'toes') lowest.set(strip, Math.min(lowest.get(strip) ?? Infinity, over));
    seated.push({ v, over, strip });
  }
  let sum = 0;
  let area = 0;
  let worst = -1;
  let far = -1;
  for (const { v, over, strip } of seated) {
    if (over > (lowest.get(strip) ?? Infinity) + FLATNESS.pad) continue;
    sum += areas[v] * over * over;
    area += areas[v];
    if (Math.abs(over) > far) {
      far = Math.abs(over);
      worst = v;
    }
  }
  return worst < 0 ? null : { rms: Math.sqrt(sum / area), worst: [p[3 * worst], p[3 * worst + 1], p[3 * worst + 2]], area };
}

const planeAt = (planes: SolePlanes, x: number) => (x <= planes.crease ? planes.rear : planes.front);

/** The seat at a place of the sole; null where it lies on none. */
function seatAt(x: number, y: number, across: number, landmarks: Landmarks): keyof typeof SEATS | null {
  const { footLength: fl } = landmarks;
  const fromBall = aheadOfBallLine(x, y, landmarks) / fl;
  for (const [name, { from, to, outer, inner }] of Object.entries(SEATS)) {
    const along = name === 'ball' || name === 'toes' ? fromBall : x / fl;
    if (along >= from && along < to && across >= outer && across <= inner) return name as keyof typeof SEATS;
  }
  return null;
}

/** Tells how far across the sole a vertex lies: 0 at the outer edge, 1 at the inner. */
function acrossSole(cast: StandingCast, sole: Uint32Array, planes: SolePlanes): (v: number) => number {
  const { mesh: { positions: p }, landmarks, side } = cast;
  const m = medialSign(side);
  const rows = Math.ceil(landmarks.footLength / FLATNESS.row) + 1;
  const low = new Float64Array(rows).fill(Infinity);
  const high = new Float64Array(rows).fill(-Infinity);
  const rowOf = (v: number): number => Math.max(0, Math.min(rows - 1, Math.floor(p[3 * v] / FLATNESS.row)));
  for (const v of sole) {
    if (heightOver(cast, planeAt(planes, p[3 * v]), v) > FLATNESS.edge) continue;
    const y = m * p[3 * v + 1];
    const row = rowOf(v);
    if (y < low[row]) low[row] = y;
    if (y > high[row]) high[row] = y;
  }
  return (v) => (m * p[3 * v + 1] - low[rowOf(v)]) / (high[rowOf(v)] - low[rowOf(v)]);
}
