import type { Mesh } from '../mesh/mesh.js';
import { triangleNormal } from '../mesh/quantities.js';
import { tapeRound } from '../sections/tape.js';
import type { Rows } from '../mesh/topology.js';
import { meanPlane } from './triangulate-loop.js';

/** The shape of a boundary loop and of the surface that leads up to it. */
export interface RimShape {
  /** Unit normal of the mean plane, pointing away from the surface that the loop bounds (out of the hole). */
  readonly normal: readonly [number, number, number];
  readonly centre: readonly [number, number, number];
  /** Area that the loop encloses in its mean plane. */
  readonly area: number;
  /** Radius of the circle of that area. */
  readonly radius: number;
  /** Length of a tape drawn tight round the loop in its mean plane; raggedness does not lengthen it. */
  readonly tape: number;
  /** Longest over shortest width in the mean plane. */
  readonly aspect: number;
  /** Root mean square distance of the loop from its mean plane. */
  readonly unevenness: number;
  /** Mean angle between the surface at the rim and the mean plane: 0 for a hole in a plane, π/2 for the end of a tube. */
  readonly steepness: number;
}

/** `loop` has the surface on its left, `around` holds the triangles at each vertex; null where the loop encloses nothing. */
export function rimShape(mesh: Mesh, around: Rows, loop: Uint32Array): RimShape | null {
  const n = loop.length;
  const points = new Float64Array(3 * n);
  const centre: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const v = 3 * loop[n - 1 - i];
    for (let k = 0; k < 3; k++) {
      points[3 * i + k] = mesh.positions[v + k];
      centre[k] += mesh.positions[v + k] / n;
    }
  }
  const plane = meanPlane(points);
  if (!plane) return null;
  const u = plane.subarray(0, 3);
  const v = plane.subarray(3, 6);
  const w = plane.subarray(6, 9);
  const along = (axis: Float64Array, i: number): number =>
    axis[0] * (points[3 * i] - centre[0]) + axis[1] * (points[3 * i + 1] - centre[1]) + axis[2] * (points[3 * i + 2] - centre[2]);
  let area = 0;
  let square = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    area += (along(u, i) * along(v, j) - along(u, j) * along(v, i)) / 2;
    square += along(w, i) ** 2 / n;
  }
  const tape = tapeRound(points, u, v);
  return {
    normal: [w[0], w[1], w[2]],
    centre,
    area,
    radius: Math.sqrt(area / Math.PI),
    tape: tape.length,
    aspect: aspectOf(tape.line, u, v),
    unevenness: Math.sqrt(square),
    steepness: steepnessOf(mesh, around, loop, w),
  };
}

/** Longest over shortest width of a convex outline. */
function aspectOf(line: Float64Array, u: Float64Array, v: Float64Array): number {
  let shortest = Infinity;
  let longest = 0;
  const directions = 90;
  for (let d = 0; d < directions; d++) {
    const c = Math.cos((Math.PI * d) / directions);
    const s = Math.sin((Math.PI * d) / directions);
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < line.length; i += 3) {
      const a =
        (c * u[0] + s * v[0]) * line[i] + (c * u[1] + s * v[1]) * line[i + 1] + (c * u[2] + s * v[2]) * line[i + 2];
      if (a < low) low = a;
      if (a > high) high = a;
    }
    shortest = Math.min(shortest, high - low);
    longest = Math.max(longest, high - low);
  }
  return longest / shortest;
}

/** Mean angle to the plane of the triangles within two rows of the rim, by area; rows and not edges, so that ragged rims do not count. */
function steepnessOf(mesh: Mesh, around: Rows, loop: Uint32Array, w: Float64Array): number {
  const { triangles } = mesh;
  const near = new Set<number>();
  for (const v of loop) {
    for (let r = around.offsets[v]; r < around.offsets[v + 1]; r++) {
      for (let k = 0; k < 3; k++) {
        const x = triangles[3 * around.items[r] + k];
        for (let s = around.offsets[x]; s < around.offsets[x + 1]; s++) near.add(around.items[s]);
      }
    }
  }
  const n = new Float64Array(3);
  let sum = 0;
  let weight = 0;
  for (const t of near) {
    triangleNormal(mesh, 3 * t, n);
    const length = Math.hypot(n[0], n[1], n[2]);
    if (length === 0) continue;
    sum += length * Math.acos(Math.max(-1, Math.min(1, (n[0] * w[0] + n[1] * w[1] + n[2] * w[2]) / length)));
    weight += length;
  }
  return weight > 0 ? sum / weight : 0;
}
