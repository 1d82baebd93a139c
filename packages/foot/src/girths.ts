import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import type { Tape } from '@cast-to-last/geometry/sections/tape';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import type { Point } from './landmarks.js';

export interface Girth extends Tape {
  /** Share of the tape's corners that lie on surface which repair made up. */
  readonly onFilled: number;
  /** The normal of its plane, and the curves that it goes round. */
  readonly normal: readonly [number, number, number];
  readonly curves: readonly SectionCurve[];
}

/** The surface that tapes are laid on. */
export interface Wrapped {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  /** One byte a vertex: 1 where repair made the surface. */
  readonly filled: Uint8Array;
}

export const TILT = { fromDeg: -20, toDeg: 60, stepDeg: 5, toleranceDeg: 0.05 } as const;

/**
 * The tape in the plane through `point` spanned by the unit vectors u and v.
 *
 * @param keep which of the section's curves the tape goes round
 * @returns null where no curve is kept or one of the kept ones is open (the cast stops short)
 */
export function girthInPlane(
  surface: Wrapped,
  point: Point,
  u: ArrayLike<number>,
  v: ArrayLike<number>,
  keep: (curves: SectionCurve[]) => SectionCurve[],
): Girth | null {
  const n: [number, number, number] = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const offset = n[0] * point[0] + n[1] * point[1] + n[2] * point[2];
  const kept = keep(section(surface.mesh, surface.twin, n, offset));
  if (kept.length === 0 || kept.some((curve) => !curve.closed)) return null;
  const size = kept.reduce((sum, curve) => sum + curve.points.length, 0);
  const points = new Float64Array(size);
  const triangles = new Uint32Array(size / 3);
  let at = 0;
  for (const curve of kept) {
    points.set(curve.points, at);
    triangles.set(curve.triangles, at / 3);
    at += curve.points.length;
  }
  const tape = tapeRound(points, u, v);
  let made = 0;
  for (const corner of tape.corners) {
    const t = 3 * triangles[corner];
    for (let k = 0; k < 3; k++) made += surface.filled[surface.mesh.triangles[t + k]];
  }
  return { ...tape, onFilled: tape.corners.length === 0 ? 0 : made / (3 * tape.corners.length), normal: n, curves: kept };
}

/** Every curve: the toes' own loops belong to the tape round the ball. */
export const allCurves = (curves: SectionCurve[]): SectionCurve[] => curves.filter((c) => c.points.length >= 9);

/** The one curve that passes nearest to `point`. */
export const curveThrough =
  (point: Point) =>
  (curves: SectionCurve[]): SectionCurve[] => {
    let best: SectionCurve | null = null;
    let nearest = Infinity;
    for (const curve of curves) {
      for (let i = 0; i < curve.points.length; i += 3) {
        const d = length3(curve.points[i] - point[0], curve.points[i + 1] - point[1], curve.points[i + 2] - point[2]);
        if (d < nearest) {
          nearest = d;
          best = curve;
        }
      }
    }
    return best === null ? [] : [best];
  };

/** The tape in the plane that holds `point` and Y, tilted about Y from upright so that its lower part goes to the heel. */
export function tiltedGirth(surface: Wrapped, point: Point, tilt: number): Girth | null {
  return girthInPlane(surface, point, [0, 1, 0], [Math.sin(tilt), 0, Math.cos(tilt)], curveThrough(point));
}

/**
 * The shortest tape through `point` among planes that hold it and Y (common practice, no source).
 *
 * @param near radians: where given, the tape is sought from this tilt on, and is the shortest of those near to it
 * @returns the girth and its tilt in radians; null where no plane gives a closed section
 */
export function shortestGirth(surface: Wrapped, point: Point, near?: number): { girth: Girth; tilt: number } | null {
  const rad = Math.PI / 180;
  let best: { girth: Girth; tilt: number } | null = null;
  const consider = (tilt: number): number => {
    const girth = tiltedGirth(surface, point, tilt);
    if (girth === null) return Infinity;
    if (best === null || girth.length < best.girth.length) best = { girth, tilt };
    return girth.length;
  };
  const steps = (TILT.toDeg - TILT.fromDeg) / TILT.stepDeg;
  const lengthAt = (step: number): number => (step < 0 || step > steps ? Infinity : consider((TILT.fromDeg + step * TILT.stepDeg) * rad));
  const found = near !== undefined && isLeastFrom(Math.round((near / rad - TILT.fromDeg) / TILT.stepDeg), lengthAt);
  if (!found) for (let step = 0; step <= steps; step++) lengthAt(step);
  const coarse = best as { girth: Girth; tilt: number } | null;
  if (coarse === null) return null;
  let low = Math.max(coarse.tilt - TILT.stepDeg * rad, TILT.fromDeg * rad);
  let high = Math.min(coarse.tilt + TILT.stepDeg * rad, TILT.toDeg * rad);
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = high - golden * (high - low);
  let b = low + golden * (high - low);
  let fa = consider(a);
  let fb = consider(b);
  while (high - low > TILT.toleranceDeg * rad) {
    if (fa <= fb) {
      high = b;
      b = a;
      fb = fa;
      a = high - golden * (high - low);
      fa = consider(a);
    } else {
      low = a;
      a = b;
      fa = fb;
      b = low + golden * (high - low);
      fb = consider(b);
    }
  }
  return best;
}

/** Goes from a step to neighbours with less until none has, and says whether it came to such a place. */
function isLeastFrom(start: number, at: (step: number) => number): boolean {
  let step = start;
  let least = at(step);
  if (!Number.isFinite(least)) return false;
  for (const way of [1, -1]) {
    for (let next = at(step + way); next < least; next = at(step + way)) {
      step += way;
      least = next;
    }
    if (step !== start) break;
  }
  return true;
}
