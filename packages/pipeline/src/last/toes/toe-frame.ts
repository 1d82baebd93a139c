import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { outlineFront } from './outline-front.js';

/** A line across the foot seen from above, and the upright plane through it: x = at + slope · y. */
export interface ToeLine {
  readonly at: number;
  readonly slope: number;
}

/** How far ahead of a line a place lies, along X, mm. */
export const ahead = (line: ToeLine, x: number, y: number): number => x - line.at - line.slope * y;

/** The line through both ball points, moved ahead by `by` mm. */
export function ballLine({ medialBall: m, lateralBall: l }: Pick<Landmarks, 'medialBall' | 'lateralBall'>, by: number): ToeLine {
  const slope = (l[0] - m[0]) / (l[1] - m[1]);
  return { at: m[0] - slope * m[1] + by, slope };
}

/**
 * Coordinates of the toe part. Upright planes, `part` 0 at the start and 1 near the toes' ends, lie across the foot and turn
 * from the ball line to the line of the toes' ends. In each plane a core line runs from the outer to the inner side; the
 * surface is seen from points of the core, first across (in the planes), then, round the toes' ends, ever more ahead.
 */
export interface ToeFrame {
  readonly start: ToeLine;
  readonly front: ToeLine;
  /** y and z of the core's ends at part 0 and part 1: [y outer, z, y inner, z], outer first. */
  readonly coreStart: readonly [number, number, number, number];
  readonly coreEnd: readonly [number, number, number, number];
}

/** Where the core's ends stand, as shares of the breadth, from each side. */
const CORE_INSET = 0.2;
/** How far its front stands from the toes' ends, as a share of their height. */
const CORE_FROM_FRONT = 0.6;
/** Within what distance heights are read for the core, mm; widened where nothing stands there. */
const HEIGHTS_WITHIN = 5;

/** The frame of the hull of `points`; `thickness` is the toes' height, mm. Null where the toes are too short to have one. */
export function toeFrame(points: Float64Array, start: ToeLine, side: number, thickness: number): ToeFrame | null {
  const reach = breadthBetween(points, start, 0, 8);
  const far = breadthBetween(points, start, 15, Infinity);
  if (reach === null || far === null) return null;
  const inset = ([low, high]: readonly [number, number], most: number): readonly [number, number] => {
    const by = Math.min(CORE_INSET * (high - low), most);
    return side > 0 ? [low + by, high - by] : [high - by, low + by];
  };
  const [outer0, inner0] = inset(reach, Infinity);
  const [outer1, inner1] = inset(far, CORE_FROM_FRONT * thickness);
  const fronts = outlineFront(points, [outer1, inner1]);
  const xs = [outer1, inner1].map((y, i) => Math.max(fronts[i] - CORE_FROM_FRONT * thickness, start.at + start.slope * y + 4));
  const slope = (xs[1] - xs[0]) / (inner1 - outer1);
  const front = { at: xs[0] - slope * outer1, slope };
  const z = (line: ToeLine, y: number): number | null => middleHeight(points, line.at + line.slope * y, y);
  const heights = [z(start, outer0), z(start, inner0), z(front, outer1), z(front, inner1)];
  if (heights.some((h) => h === null)) return null;
  const [a0, b0, a1, b1] = heights as number[];
  return { start, front, coreStart: [outer0, a0, inner0, b0], coreEnd: [outer1, a1, inner1, b1] };
}

function breadthBetween(points: Float64Array, start: ToeLine, from: number, to: number): readonly [number, number] | null {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    const s = ahead(start, points[i], points[i + 1]);
    if (s < from || s > to) continue;
    low = Math.min(low, points[i + 1]);
    high = Math.max(high, points[i + 1]);
  }
  return high - low > 10 ? [low, high] : null;
}

/** Half-way between the lowest and the highest point near a place. */
function middleHeight(points: Float64Array, x: number, y: number): number | null {
  for (let within = HEIGHTS_WITHIN; within < 40; within *= 1.5) {
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < points.length; i += 3) {
      if (Math.abs(points[i] - x) > within || Math.abs(points[i + 1] - y) > within) continue;
      low = Math.min(low, points[i + 2]);
      high = Math.max(high, points[i + 2]);
    }
    if (high - low > 6) return (low + high) / 2;
  }
  return null;
}

/** The part of the plane through a place: less than 0 behind the start. */
export function partAt(frame: ToeFrame, x: number, y: number): number {
  const start = frame.start;
  const front = frame.front;
  const length = front.at - start.at + (front.slope - start.slope) * y;
  return ahead(start, x, y) / Math.max(length, 5);
}

/** The core line in the plane of `part`: its ends (y, z), half of it as a vector and as a length, its unit vector from the outer end, and the one square to it, up. */
function coreAt({ coreStart: a, coreEnd: b }: ToeFrame, part: number) {
  const y0 = a[0] + part * (b[0] - a[0]);
  const z0 = a[1] + part * (b[1] - a[1]);
  const y1 = a[2] + part * (b[2] - a[2]);
  const z1 = a[3] + part * (b[3] - a[3]);
  const hy = (y1 - y0) / 2;
  const hz = (z1 - z0) / 2;
  const half = Math.sqrt(hy * hy + hz * hz);
  const uy = hy / half;
  const uz = hz / half;
  const up = uy > 0 ? 1 : -1;
  return { y0, z0, y1, z1, hy, hz, half, uy, uz, ny: -up * uz, nz: up * uy };
}

/** A ray that sees the surface: x, y, z of its start and of its direction. */
export type Ray = Float64Array;

/**
 * The ray of column `angle` (0 inner, π/2 up, π outer) at `part`; `turn` is the angle ahead, 0 across and π/2 straight on.
 *
 * @param out 6 numbers: start, direction
 */
export function rayAt(frame: ToeFrame, part: number, turn: number, angle: number, out: Ray): void {
  const { start, front } = frame;
  const { y0, z0, hy, hz, uy, uz, ny, nz } = coreAt(frame, part);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const slope = start.slope + part * (front.slope - start.slope);
  out[1] = y0 + hy + cos * hy;
  out[2] = z0 + hz + cos * hz;
  out[0] = start.at + part * (front.at - start.at) + slope * out[1];
  const across = Math.cos(turn);
  out[4] = across * (cos * uy + sin * ny);
  out[5] = across * (cos * uz + sin * nz);
  out[3] = slope * out[4];
  if (turn === 0) return;
  const on = Math.sin(turn) / Math.sqrt(1 + slope * slope);
  out[3] += on;
  out[4] -= on * slope;
}

/** The column and the distance along its ray of a point in the plane of `part`, [angle, distance]. */
export function columnOf(frame: ToeFrame, part: number, y: number, z: number): [number, number] {
  const { y0, z0, y1, z1, half, uy, uz, ny, nz } = coreAt(frame, part);
  const py = y - (y0 + y1) / 2;
  const pz = z - (z0 + z1) / 2;
  return columnIn(half, py * uy + pz * uz, py * ny + pz * nz);
}

/** Angle and distance round a core from −half to half of a point `along` and `up` from its middle. */
export function columnIn(half: number, along: number, up: number): [number, number] {
  const p = Math.abs(along);
  const q = Math.abs(up);
  // (half + distance) cos = along, distance sin = up: one crossing of 0 between 0 and π/2.
  let low = 0;
  let high = Math.PI / 2;
  for (let round = 0; round < 32; round++) {
    const middle = (low + high) / 2;
    const c = Math.cos(middle);
    const s = Math.sin(middle);
    if ((p - half * c) * s - q * c < 0) low = middle;
    else high = middle;
  }
  const angle = (low + high) / 2;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const turned = along < 0 ? Math.PI - angle : angle;
  return [up < 0 ? -turned : turned, (p - half * c) * c + q * s];
}
