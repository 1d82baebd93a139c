import { cross, unit } from '@cast-to-last/geometry/numerics/vectors';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { FrameLandmarks } from './frame.js';
import { FRAME } from './frame.js';
import type { Girth, Wrapped } from './girths.js';
import type { Landmarks, Point } from './landmarks.js';
import { madeUpBounds } from './made-up-bounds.js';
import { madeUpDepth } from './made-up-depth.js';

/**
 * Shares of the way from what repair made to where the surfaces on both sides of it meet by which the true surface may lie
 * off: on an arc of a circle that a fill cuts off, the arc stands half as high over it as the sides meet where it is flat, and is
 * longer than it by at most a third of the way round there. So are holes of 20 to 50 mm radius round heel, instep, waist,
 * ball and ankle (generated casts of the tuning range).
 */
const SHARE = { height: 0.4, length: 0.35 } as const;

/**
 * Where no part of a fill lies farther from scanned surface than a share of foot length fills follow their surroundings
 * however these turn: within `off` mm, a tape over them within `tape` mm times the share of its line. Generated casts, as above.
 */
const SMALL = { share: 0.09, off: 2, tape: 8 } as const;

/** Across which height of the heel its rearmost point is sought, as a share of foot length. */
const HEEL_HEIGHT = 0.1;

/**
 * A foot stands on what lies within this of its lowest point, mm, behind and between these shares of its length. Where repair
 * made that, and not only a small part, it was up to 9 mm off: casts of two sorts of generated feet whose sole, or the part of
 * it under heel or ball, was missing.
 */
const FLOOR = { within: 2, heel: 0.35, ball: [0.55, 0.85], off: 8 } as const;

/** A plane across an axis, a place on it. */
type Cut = readonly [axis: 0 | 1 | 2, at: number];

/** How far measures may be off because repair made a part of the surface and may have cut across what bulges there. mm, half-widths of a 95 % interval; Infinity where nothing bounds it. */
export class MadeUpDoubt {
  private readonly surface: Wrapped;
  private readonly isWhole: boolean;
  /** Whether no fill reaches far from scanned surface. */
  private readonly isSmall: boolean;

  /** @param isGiven whether the surface is what it is, as that of a last: there is nothing else that it could be off from */
  constructor(surface: Wrapped, footLength: number, isGiven: boolean) {
    this.surface = surface;
    this.isWhole = isGiven || !surface.filled.includes(1);
    this.isSmall = this.isWhole || madeUpDepth(surface) < SMALL.share * footLength;
  }

  /** Of a tape's length: how much longer it would be round where the surface could lie at the most. */
  ofTape({ curves, normal, line, length }: Girth): number {
    if (this.isWhole) return 0;
    const corners: Point[] = [];
    let share = 0;
    let isBounded = true;
    for (const curve of curves) {
      const bounds = madeUpBounds(curve, this.surface, normal);
      if (bounds !== null) corners.push(...bounds);
      else isBounded = false;
      share = Math.max(share, this.shareOf(curve));
    }
    // The rest plane bounds a sole better than its sides do.
    const follows = this.isSmall || (isBounded && corners.every(([, , z]) => z < 1e-6));
    const most = follows ? SMALL.tape * share : Infinity;
    if (!isBounded || corners.length === 0) return isBounded ? 0 : most;
    const u = unit(cross(normal, Math.abs(normal[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0]));
    const widest = tapeRound(Float64Array.from([...line, ...corners.flat()]), u, cross(normal, u)).length;
    return Math.min(most, SHARE.length * Math.max(0, widest - length));
  }

  /** Of the rearmost point of the heel along the foot. */
  ofHeel({ pternion, footLength }: FrameLandmarks): number {
    return this.beyond([[1, pternion[1]], [2, HEEL_HEIGHT * footLength]], 0, -1, pternion[0], ([x, , z]) => x < FRAME.heelSection * footLength && z < FRAME.pternionCeiling * footLength);
  }

  /** Of the foremost point along the foot. */
  ofToes = ({ toeTip }: Landmarks): number => this.beyond([[1, toeTip[1]]], 0, 1, toeTip[0]);

  /** Of the ball points across the foot. */
  ofBall({ medialBall: a, lateralBall: b }: Landmarks): readonly number[] {
    return [a, b].map((point) => this.beyond([[2, point[2]], [0, point[0]]], 1, Math.sign(point[1]) as 1 | -1, point[1]));
  }

  /** Of the sides of the heel in its section. */
  ofHeelSides({ heelCentre: [x, y], heelWidth, footLength }: FrameLandmarks): readonly number[] {
    return ([1, -1] as const).map((way) => this.beyond([[0, x]], 1, way, y + (way * heelWidth) / 2, ([, , z]) => z < FRAME.heelCeiling * footLength));
  }

  /** Of the instep point's height. */
  ofTop = (instep: Point): number => this.beyond([[0, instep[0]]], 2, 1, instep[2]);

  /** Of the height of the rest plane, under each place along the foot. */
  ofFloor({ heelCentre, ballCentre, footLength }: FrameLandmarks): (x: number) => number {
    const heel = this.ofSole(-Infinity, FLOOR.heel * footLength);
    const ball = this.ofSole(FLOOR.ball[0] * footLength, FLOOR.ball[1] * footLength);
    return (x) => {
      const ahead = Math.max(0, Math.min(1, (x - heelCentre[0]) / (ballCentre[0] - heelCentre[0])));
      return Math.hypot((1 - ahead) * heel, ahead * ball);
    };
  }

  /** Of the lowest that lies between two places along the foot. */
  ofSole(from: number, to: number): number {
    if (this.isWhole) return 0;
    const { mesh: { positions: p }, filled } = this.surface;
    const part = Array.from(filled.keys()).filter((v) => p[3 * v] >= from && p[3 * v] <= to);
    const floor = part.reduce((least, v) => Math.min(least, p[3 * v + 2]), Infinity) + FLOOR.within;
    const low = part.filter((v) => p[3 * v + 2] <= floor);
    const made = low.reduce((sum, v) => sum + filled[v], 0);
    return low.length > 0 ? ((this.isSmall ? SMALL.off : FLOOR.off) * made) / low.length : 0;
  }

  /** How far beyond a value along an axis the surface may lie in some sections, where repair made it. */
  private beyond(cuts: readonly Cut[], axis: 0 | 1 | 2, way: 1 | -1, value: number, isPart: (corner: Point) => boolean = () => true): number {
    if (this.isWhole) return 0;
    const { mesh, twin } = this.surface;
    let most = 0;
    for (const [across, at] of cuts) {
      const normal = [0, 0, 0].map((_, k) => (k === across ? 1 : 0));
      for (const curve of section(mesh, twin, normal, at)) {
        const bounds = madeUpBounds(curve, this.surface, normal);
        const limit = this.isSmall ? SMALL.off : Infinity;
        if (bounds === null) most = Math.max(most, limit);
        else for (const corner of bounds) if (isPart(corner)) most = Math.max(most, Math.min(limit, SHARE.height * way * (corner[axis] - value)));
      }
    }
    return most;
  }

  /** The share of a curve's length that repair made. */
  private shareOf({ points, triangles }: SectionCurve): number {
    const corners = this.surface.mesh.triangles;
    let all = 0;
    let made = 0;
    for (let i = 0; i < triangles.length; i++) {
      const a = 3 * i;
      const b = (3 * (i + 1)) % points.length;
      const length = Math.hypot(points[b] - points[a], points[b + 1] - points[a + 1], points[b + 2] - points[a + 2]);
      all += length;
      for (let k = 0; k < 3; k++) made += (this.surface.filled[corners[3 * triangles[i] + k]] * length) / 3;
    }
    return all > 0 ? made / all : 0;
  }
}
