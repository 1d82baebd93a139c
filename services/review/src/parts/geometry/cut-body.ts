import { section } from '@cast-to-last/geometry/sections/section';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { allCurves, curveThrough } from '@cast-to-last/foot/girths';
import type { Calls, Cut } from './calls.js';
import { bodyOf } from './kept-bodies.js';

/** The section of a body and the tape round it; the one curve nearest to `through`, or all that the plane cuts. */
export function cutBody({ body: key, plane: { normal, offset }, felt, through }: Parameters<Calls['cut']>[0]): Cut | null {
  const body = bodyOf(key);
  if (body === undefined) return null;
  const { mesh, twin } = felt ? body.felt() : { mesh: body.mesh, twin: body.twin() };
  const found = section(mesh, twin, normal, offset);
  const curves = through === null ? allCurves(found) : curveThrough(through)(found);
  return { curves: curves.map(({ points, closed }) => ({ points: Float32Array.from(points), closed })), tape: tape(curves, normal) };
}

function tape(curves: readonly SectionCurve[], [nx, ny, nz]: readonly [number, number, number]): Cut['tape'] {
  if (curves.length === 0 || curves.some(({ closed }) => !closed)) return null;
  const points = new Float64Array(curves.reduce((sum, curve) => sum + curve.points.length, 0));
  let at = 0;
  for (const curve of curves) {
    points.set(curve.points, at);
    at += curve.points.length;
  }
  // Any two directions of the plane at right angles to each other.
  const level = Math.hypot(nx, ny) > 1e-6 ? [-ny / Math.hypot(nx, ny), nx / Math.hypot(nx, ny), 0] : [1, 0, 0];
  const across = [ny * level[2] - nz * level[1], nz * level[0] - nx * level[2], nx * level[1] - ny * level[0]];
  const { length, line } = tapeRound(points, level, across);
  return { length, line: Float32Array.from(line) };
}
