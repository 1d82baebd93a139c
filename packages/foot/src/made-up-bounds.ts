import { distance } from '@cast-to-last/geometry/numerics/vectors';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import type { Wrapped } from './girths.js';
import type { Point } from './landmarks.js';

/** Over how much of the scanned line before and after a made-up stretch its direction is taken, mm. */
const LEAD = 6;

/** Shorter stretches are not looked at, mm: what repair makes there follows its surroundings. */
const LEAST_STRETCH = 10;

/**
 * Where the true surface could lie at the most along stretches of a section that repair made, as ground that bulges does
 * and repair may cut across: on each side it goes on straight from where it was scanned until both meet, or to the rest
 * plane z = 0, under which no foot reaches.
 *
 * @param normal of the section's plane, unit 3-vector
 * @returns the corners of that; null where the sides never meet, so that nothing bounds it
 */
export function madeUpBounds(curve: SectionCurve, { mesh, filled }: Pick<Wrapped, 'mesh' | 'filled'>, normal: ArrayLike<number>): Point[] | null {
  // An open curve is closed by a straight line, which nobody made.
  const count = curve.points.length / 3;
  const isMade = (i: number): boolean => {
    const segment = ((i % count) + count) % count;
    if (segment >= curve.triangles.length) return false;
    const t = 3 * curve.triangles[segment];
    return filled[mesh.triangles[t]] + filled[mesh.triangles[t + 1]] + filled[mesh.triangles[t + 2]] > 0;
  };
  const corners: Point[] = [];
  const line = new Line(curve, normal);
  for (let i = 0; i < count; i++) {
    if (!isMade(i) || isMade(i - 1)) continue;
    let end = i + 1;
    while (end < i + count && isMade(end)) end++;
    const met = line.whereSidesMeet(i, end);
    if (met === null) return null;
    corners.push(...met);
  }
  return corners;
}

/** A curve in a plane. Points are numbered round and round. */
class Line {
  private readonly points: Float64Array;
  private readonly normal: ArrayLike<number>;
  private readonly count: number;
  /** 1 where the curve runs round its inside to the left, seen against the normal; −1 to the right. */
  private readonly way: number = 1;

  constructor({ points }: SectionCurve, normal: ArrayLike<number>) {
    this.points = points;
    this.normal = normal;
    this.count = points.length / 3;
    const [x, y, z] = points;
    let area = 0;
    for (let i = 1; i + 1 < this.count; i++) area += this.turn(minus(this.at(i), [x, y, z]), minus(this.at(i + 1), [x, y, z]));
    this.way = Math.sign(area);
  }

  /** Where the sides of the stretch between two points meet; nothing where it is short or hollow. */
  whereSidesMeet(from: number, to: number): Point[] | null {
    const a = this.at(from);
    const b = this.at(to);
    const across = minus(b, a);
    if (Math.hypot(...across) < LEAST_STRETCH) return [];
    const ahead = unit(minus(a, this.lead(from, -1)));
    const back = unit(minus(b, this.lead(to, 1)));
    // Both sides must lean out of the chord, as those of a bulge do.
    if (this.turn(ahead, across) <= 0 || this.turn(back, across) <= 0) return [];
    const closing = this.turn(back, ahead);
    if (closing > 0) {
      const meet = plus(a, ahead, this.turn(back, across) / closing);
      if (meet[2] >= 0) return [meet];
    }
    if (ahead[2] < 0 && back[2] < 0) return [plus(a, ahead, a[2] / -ahead[2]), plus(b, back, b[2] / -back[2])];
    return null;
  }

  /** The point some millimetres along the line from another. */
  private lead(from: number, step: 1 | -1): Point {
    let way = 0;
    let i = from;
    for (let n = 0; n < this.count && way < LEAD; n++, i += step) way += distance(this.at(i), this.at(i + step));
    return this.at(i);
  }

  private at(i: number): Point {
    const k = 3 * (((i % this.count) + this.count) % this.count);
    return [this.points[k], this.points[k + 1], this.points[k + 2]];
  }

  /** Sine of the angle from one vector to another times their lengths, positive towards the inside. */
  private turn([ax, ay, az]: Point, [bx, by, bz]: Point): number {
    const n = this.normal;
    return this.way * (n[0] * (ay * bz - az * by) + n[1] * (az * bx - ax * bz) + n[2] * (ax * by - ay * bx));
  }
}

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a: Point, way: Point, by: number): Point => [a[0] + by * way[0], a[1] + by * way[1], a[2] + by * way[2]];
const unit = (a: Point): Point => plus([0, 0, 0], a, 1 / (Math.hypot(...a) || 1));
