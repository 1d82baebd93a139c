import type { NearestPoint, SurfaceTree } from './bvh.js';
import { nearestOnSurface, surfaceTree } from './bvh.js';
import type { Mesh } from '../mesh/mesh.js';
import { triangleNormals } from '../mesh/quantities.js';
import { BOUNDARY, nextHalfedge, twins } from '../mesh/topology.js';

/** A surface that others are laid on or compared with. */
export interface SurfaceTarget {
  readonly mesh: Mesh;
  readonly tree: SurfaceTree;
  /** Unit normal of each triangle; length 3 × triangles. */
  readonly normals: Float64Array;
  /** The opposite halfedge of each halfedge, as `twins` gives it. */
  readonly twin: Int32Array;
}

/** Share of a triangle's height within which a point counts as lying on its edge. */
const ON_EDGE = 1e-6;

/** @param mesh welded, so that its edges know each other */
export function surfaceTarget(mesh: Mesh): SurfaceTarget {
  const normals = triangleNormals(mesh);
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]) || 1;
    for (let k = 0; k < 3; k++) normals[i + k] /= length;
  }
  return { mesh, tree: surfaceTree(mesh), normals, twin: twins(mesh) };
}

/**
 * The surface's point that faces x, y, z: the nearest one, unless none lies within `reach`, or it lies on the surface's own
 * edge, beyond which there is nothing to compare with. Written into `into`; whether there is one.
 */
export function facingPoint({ mesh, tree, twin }: SurfaceTarget, x: number, y: number, z: number, into: NearestPoint, reach: number): boolean {
  if (!nearestOnSurface(tree, x, y, z, into, reach)) return false;
  const first = 3 * into.triangle;
  for (let h = first; h < first + 3; h++) if (twin[h] === BOUNDARY && liesOnEdge(mesh, h, into.point)) return false;
  return true;
}

/** Whether a point of a triangle lies on its halfedge h, by the height over it as a share of the triangle's. */
function liesOnEdge({ positions: p, triangles }: Mesh, h: number, q: Float64Array): boolean {
  const a = 3 * triangles[h];
  const b = 3 * triangles[nextHalfedge(h)];
  const c = 3 * triangles[nextHalfedge(nextHalfedge(h))];
  return crossLength(p, a, b, q, 0) <= ON_EDGE * crossLength(p, a, b, p, c);
}

/** |(b − a) × (r − a)|, r at `at` of its array. */
function crossLength(p: Float64Array, a: number, b: number, r: Float64Array, at: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = r[at] - p[a];
  const vy = r[at + 1] - p[a + 1];
  const vz = r[at + 2] - p[a + 2];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
}
