import { section } from '@cast-to-last/geometry/sections/section';
import { nearestOnSurface, newNearestPoint } from '@cast-to-last/geometry/distance/bvh';
import type { Calls, Profile } from './calls.js';
import type { KeptBody } from './kept-bodies.js';
import { bodyOf } from './kept-bodies.js';

/** Normals within this of a place are averaged, mm: those of single triangles are noise. */
const STEADY = 6;

/** The line across a place of both bodies, in the plane that holds the surface's normal there and the direction `along`. */
export function profileAcross({ before, after, at, along, reach }: Parameters<Calls['profile']>[0]): Profile | null {
  const [old, now] = [bodyOf(before), bodyOf(after)];
  if (old === undefined || now === undefined) return null;
  const up = steadyNormal(now, at);
  const dot = up[0] * along[0] + up[1] * along[1] + up[2] * along[2];
  let tangent = [along[0] - dot * up[0], along[1] - dot * up[1], along[2] - dot * up[2]];
  if (Math.hypot(...tangent) < 0.1) tangent = [up[1], -up[0], 0];
  const length = Math.hypot(...tangent);
  tangent = tangent.map((c) => c / length);
  const plane = [tangent[1] * up[2] - tangent[2] * up[1], tangent[2] * up[0] - tangent[0] * up[2], tangent[0] * up[1] - tangent[1] * up[0]];
  const offset = plane[0] * at[0] + plane[1] * at[1] + plane[2] * at[2];
  const lineOf = (body: KeptBody): Float32Array[] =>
    section(body.mesh, body.twin(), plane, offset).flatMap(({ points }) => within(points, at, tangent, up, reach));
  return { before: lineOf(old), after: lineOf(now) };
}

/** The runs of a curve that lie within reach of the place, as s and h. */
function within(points: Float64Array, at: readonly number[], tangent: readonly number[], up: readonly number[], reach: number): Float32Array[] {
  const runs: number[][] = [];
  let run: number[] | null = null;
  for (let i = 0; i < points.length; i += 3) {
    const d = [points[i] - at[0], points[i + 1] - at[1], points[i + 2] - at[2]];
    const s = d[0] * tangent[0] + d[1] * tangent[1] + d[2] * tangent[2];
    const h = d[0] * up[0] + d[1] * up[1] + d[2] * up[2];
    if (Math.abs(s) > reach || Math.abs(h) > reach) run = null;
    else {
      if (run === null) runs.push((run = []));
      run.push(s, h);
    }
  }
  return runs.filter((r) => r.length >= 4).map((r) => Float32Array.from(r));
}

const found = newNearestPoint();

function steadyNormal(body: KeptBody, at: readonly [number, number, number]): [number, number, number] {
  if (!nearestOnSurface(body.tree(), at[0], at[1], at[2], found)) return [0, 0, 1];
  const { positions: p, triangles: t } = body.mesh;
  const sum = [0, 0, 0];
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    if (Math.abs(p[a] - found.point[0]) > STEADY || Math.abs(p[a + 1] - found.point[1]) > STEADY || Math.abs(p[a + 2] - found.point[2]) > STEADY) continue;
    const [b, c] = [3 * t[f + 1], 3 * t[f + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    sum[0] += uy * vz - uz * vy;
    sum[1] += uz * vx - ux * vz;
    sum[2] += ux * vy - uy * vx;
  }
  const length = Math.hypot(...sum) || 1;
  return [sum[0] / length, sum[1] / length, sum[2] / length];
}
