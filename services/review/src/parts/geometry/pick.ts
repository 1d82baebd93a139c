import { firstAlong, nearestOnSurface, newNearestPoint } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Calls, Met } from './calls.js';
import { bodyOf } from './kept-bodies.js';

const found = newNearestPoint();

/** The first place where a ray meets a body. */
export function pick({ body: key, from, along }: Parameters<Calls['pick']>[0]): Met | null {
  const body = bodyOf(key);
  if (body === undefined || !firstAlong(body.tree(), from[0], from[1], from[2], along, 0, found)) return null;
  return { point: [found.point[0], found.point[1], found.point[2]], normal: normalOf(body.mesh, found.triangle) };
}

/** How far a point may lie off the body and still have a normal there, mm. */
const REACH = 40;

export function normalsAt({ body: key, points }: Parameters<Calls['normalsAt']>[0]): Float32Array | null {
  const body = bodyOf(key);
  if (body === undefined) return null;
  const out = new Float32Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    if (nearestOnSurface(body.tree(), points[i], points[i + 1], points[i + 2], found, REACH)) out.set(normalOf(body.mesh, found.triangle), i);
  }
  return out;
}

export function normalOf({ positions: p, triangles: t }: Mesh, triangle: number): [number, number, number] {
  const [a, b, c] = [3 * t[3 * triangle], 3 * t[3 * triangle + 1], 3 * t[3 * triangle + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(n[0], n[1], n[2]) || 1;
  return [n[0] / length, n[1] / length, n[2] / length];
}
