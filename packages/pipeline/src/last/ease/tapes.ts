import { acrossBall } from '@cast-to-last/foot/ball-line';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { allCurves, curveThrough, shortestGirth } from '@cast-to-last/foot/girths';
import type { LastTapes, StationTape } from '@cast-to-last/foot/last-girths';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { highestAt } from '@cast-to-last/foot/points';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { Shares, TapePlane } from './flank-field.js';

/** The plane of one tape with the two unit vectors that span it, and which curves the tape goes round. */
export interface LaidTape extends TapePlane {
  readonly u: Point;
  readonly v: Point;
  readonly keep: (curves: SectionCurve[]) => SectionCurve[];
}

/**
 * Where the foot's tapes lie: ball, waist, instep; upright through the stations where the foot is open or not found.
 *
 * @param found the tapes at the landmarks
 */
export function layTapes(surface: Wrapped, landmarks: Landmarks, found: LastTapes, instep: Point, waist: Point): readonly [LaidTape, LaidTape, LaidTape] {
  const { lateralBall: b } = landmarks;
  const across = acrossBall(landmarks);
  const side = Math.sign(across.y);
  const u = [across.x, across.y, 0] as const;
  const normal = [side * u[1], -side * u[0], 0] as const;
  const ball: LaidTape = { normal, offset: normal[0] * b[0] + normal[1] * b[1], u, v: [0, 0, 1], keep: allCurves };
  const shortest = (station: Point, tape: StationTape | null): LaidTape => {
    const top = tape?.top ?? highestAt(surface, station[0]);
    const tilt = (tape ?? (top === null ? null : shortestGirth(surface, top)))?.tilt ?? 0;
    const through = top ?? station;
    const turned = [Math.cos(tilt), 0, -Math.sin(tilt)] as const;
    const offset = turned[0] * through[0] + turned[2] * through[2];
    return { normal: turned, offset, u: [0, 1, 0], v: [Math.sin(tilt), 0, Math.cos(tilt)], keep: curveThrough(through) };
  };
  return [ball, shortest(waist, found.waist), shortest(instep, found.instep)];
}

/** The lengths of tapes for any amplitudes, mm, as if every tape stayed in its plane: exact to a small share of the change. */
export function tapeModel(surface: Wrapped, tapes: readonly LaidTape[], shares: Shares): (amplitudes: ArrayLike<number>) => Float64Array {
  const cuts = tapes.map((tape) => {
    const curves = tape.keep(section(surface.mesh, surface.twin, tape.normal, tape.offset));
    const points = Float64Array.from(curves.flatMap((curve) => Array.from(curve.points)));
    const share = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 3) shares(points[i], points[i + 1], points[i + 2], share.subarray(i, i + 3));
    return { tape, points, share };
  });
  return (amplitudes) =>
    Float64Array.from(cuts, ({ tape, points, share }) => {
      const moved = points.slice();
      for (let i = 0; i < points.length; i += 3) {
        moved[i + 1] += share[i] * amplitudes[0] + share[i + 1] * amplitudes[1] + share[i + 2] * amplitudes[2];
      }
      return tapeRound(moved, tape.u, tape.v).length;
    });
}
