import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import type { HitPointInfo } from 'three-mesh-bvh';
import { MeshBVH } from 'three-mesh-bvh';
import type { Mesh } from '../mesh/mesh.js';

/** The door to three-mesh-bvh: a tree of boxes over the triangles of a mesh, built in n log n, asked in about log n. */
export interface SurfaceTree {
  readonly mesh: Mesh;
  readonly bvh: MeshBVH;
}

/** Where a query writes its answer, so that many queries share one. */
export interface NearestPoint {
  /** In the mesh's unit. */
  distance: number;
  /** The triangle that it lies on. */
  triangle: number;
  readonly point: Float64Array;
}

export const newNearestPoint = (): NearestPoint => ({ distance: Infinity, triangle: -1, point: new Float64Array(3) });

/** The tree; the mesh is shared, not copied, and must not change while the tree is used. Throws RangeError without triangles. */
export function surfaceTree(mesh: Mesh): SurfaceTree {
  if (mesh.triangles.length === 0) throw new RangeError('A mesh without triangles has no tree.');
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
  geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
  // `indirect` leaves the array of triangles in its order, so that answers name the mesh's own triangles.
  return { mesh, bvh: new MeshBVH(geometry, { indirect: true }) };
}

const asked = new Vector3();
const hit: HitPointInfo = { point: new Vector3(), distance: 0, faceIndex: 0 };

/** The point of the surface nearest to x, y, z, written into `into`; false where none lies within `reach`. */
export function nearestOnSurface({ bvh }: SurfaceTree, x: number, y: number, z: number, into: NearestPoint, reach = Infinity): boolean {
  if (bvh.closestPointToPoint(asked.set(x, y, z), hit, 0, reach) === null || hit.distance > reach) return false;
  into.distance = hit.distance;
  into.triangle = hit.faceIndex;
  into.point[0] = hit.point.x;
  into.point[1] = hit.point.y;
  into.point[2] = hit.point.z;
  return true;
}

const ray = new Ray();

/** The first place, beyond `beyond` mm, where the ray from x, y, z along the unit vector d meets the surface; false where it meets none. */
export function firstAlong({ bvh }: SurfaceTree, x: number, y: number, z: number, d: ArrayLike<number>, beyond: number, into: NearestPoint): boolean {
  ray.origin.set(x, y, z);
  ray.direction.set(d[0], d[1], d[2]);
  const met = bvh.raycastFirst(ray, DoubleSide, beyond);
  if (met === null || met.faceIndex === undefined || met.faceIndex === null) return false;
  into.distance = met.distance;
  into.triangle = met.faceIndex;
  into.point[0] = met.point.x;
  into.point[1] = met.point.y;
  into.point[2] = met.point.z;
  return true;
}
