import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { restPlane, type RestPlane } from '../reference/rest-plane.js';

/** What the contact planes are found from: vertices, outward unit normals, and the surface that belongs to each vertex. */
export interface SoleSurface {
  readonly positions: Float64Array;
  readonly normals: Float64Array;
  /** mm² */
  readonly areas: Float64Array;
}

/** Points farther than this from a contact plane do not lie on it, mm. */
const BAND = 1;

/** Every vertex with its normal (by area) and a third of the triangles round it. */
export function soleSurface({ positions, triangles }: Mesh): SoleSurface {
  const normals = new Float64Array(positions.length);
  const areas = new Float64Array(positions.length / 3);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const v = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const area = Math.hypot(n[0], n[1], n[2]) / 2;
    for (const corner of [a, b, c]) {
      for (let k = 0; k < 3; k++) normals[corner + k] += n[k];
      areas[corner / 3] += area / 3;
    }
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]) || 1;
    for (let k = 0; k < 3; k++) normals[i + k] /= length;
  }
  return { positions, normals, areas };
}

/** How far a vertex lies over a plane, at right angles, mm. */
export function above(plane: RestPlane, positions: Float64Array, v: number): number {
  const rise = positions[3 * v + 2] - plane.slopeX * positions[3 * v] - plane.slopeY * positions[3 * v + 1] - plane.height;
  return rise / Math.hypot(plane.slopeX, plane.slopeY, 1);
}

/** The cosine of the angle between a vertex's normal and straight down through the plane. */
export function facing(plane: RestPlane, normals: Float64Array, v: number): number {
  return (plane.slopeX * normals[3 * v] + plane.slopeY * normals[3 * v + 1] - normals[3 * v + 2]) / Math.hypot(plane.slopeX, plane.slopeY, 1);
}

/**
 * The contact plane of the vertices with from ≤ x ≤ to: the supporting plane of their lower hull under the middle of those
 * that face down; then the plane of least squares (each point with its share of the surface) through the points that face it
 * within 45° and lie within 1 mm of it, again and again until it stays.
 */
export function contactPlane(surface: SoleSurface, from: number, to: number): RestPlane {
  const { positions: p, normals, areas } = surface;
  const hull: number[] = [];
  const down: number[] = [];
  // The middle of the sole, by surface: it always lies over the hull.
  let [mx, my, weight] = [0, 0, 0];
  for (let v = 0; v < areas.length; v++) {
    // What faces up is never on the lower hull.
    if (p[3 * v] < from || p[3 * v] > to || normals[3 * v + 2] > 0.1) continue;
    hull.push(v);
    if (normals[3 * v + 2] > -0.5) continue;
    down.push(v);
    if (normals[3 * v + 2] > -Math.SQRT1_2) continue;
    mx += areas[v] * p[3 * v];
    my += areas[v] * p[3 * v + 1];
    weight += areas[v];
  }
  const points = new Float64Array(3 * hull.length);
  hull.forEach((v, i) => points.set(p.subarray(3 * v, 3 * v + 3), 3 * i));
  let plane = restPlane(points, mx / weight, my / weight);
  for (let round = 0; round < 100; round++) {
    const on = down.filter((v) => Math.abs(above(plane, p, v)) <= BAND && facing(plane, normals, v) > Math.SQRT1_2);
    const next = leastSquares(p, areas, on);
    if (next === null) return plane;
    const change = Math.abs(next.slopeX - plane.slopeX) + Math.abs(next.slopeY - plane.slopeY);
    plane = next;
    if (change < 1e-6) break;
  }
  return plane;
}

/** z over x and y by least squares, points weighed; null where the points do not span a plane. */
function leastSquares(p: Float64Array, weights: Float64Array, chosen: readonly number[]): RestPlane | null {
  let [w, mx, my, mz] = [0, 0, 0, 0];
  for (const v of chosen) {
    w += weights[v];
    mx += weights[v] * p[3 * v];
    my += weights[v] * p[3 * v + 1];
    mz += weights[v] * p[3 * v + 2];
  }
  if (chosen.length < 3) return null;
  [mx, my, mz] = [mx / w, my / w, mz / w];
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (const v of chosen) {
    const [x, y, z] = [p[3 * v] - mx, p[3 * v + 1] - my, p[3 * v + 2] - mz];
    xx += weights[v] * x * x;
    xy += weights[v] * x * y;
    yy += weights[v] * y * y;
    xz += weights[v] * x * z;
    yz += weights[v] * y * z;
  }
  const det = xx * yy - xy * xy;
  if (det < 1e-6 * xx * yy) return null;
  const slopeX = (xz * yy - yz * xy) / det;
  const slopeY = (yz * xx - xz * xy) / det;
  return { slopeX, slopeY, height: mz - slopeX * mx - slopeY * my };
}
