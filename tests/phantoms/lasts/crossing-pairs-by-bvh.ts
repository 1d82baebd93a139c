import { BufferAttribute, BufferGeometry, Line3, Matrix4, Plane, Triangle, Vector3 } from 'three';
import { ExtendedTriangle, MeshBVH } from 'three-mesh-bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** Its types do not name the last argument, which keeps it from warning of pairs in one plane. */
type Quiet = ExtendedTriangle & { intersectsTriangle(other: ExtendedTriangle, target: Line3, quiet: boolean): boolean };

const SAME_PLACE = new Matrix4();
/** Two triangles that meet in a shorter line than this touch, mm: coordinates are 32-bit floats. */
const TOUCH = 1e-3;

/**
 * Pairs of triangles that cross each other, by three-mesh-bvh: its own tree and its own test of two triangles. Pairs that
 * share a vertex or only touch are neighbours and do not count; nor do pairs in one plane, whose meeting is no line.
 */
export function crossingPairsByBvh({ positions, triangles }: Mesh): number {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(positions), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  const bvh = new MeshBVH(geometry, { indirect: true });
  let pairs = 0;
  const [a, b, cut] = [new ExtendedTriangle(), new ExtendedTriangle(), new Line3()];
  const at = (t: number, into: Triangle): void => {
    for (const [k, corner] of ([into.a, into.b, into.c] as Vector3[]).entries()) corner.fromArray(positions, 3 * triangles[3 * t + k]);
  };
  const share = (s: number, t: number): boolean => {
    for (let i = 3 * s; i < 3 * s + 3; i++) for (let j = 3 * t; j < 3 * t + 3; j++) if (triangles[i] === triangles[j]) return true;
    return false;
  };
  bvh.bvhcast(bvh, SAME_PLACE, {
    intersectsTriangles: (_one: ExtendedTriangle, _other: ExtendedTriangle, s: number, t: number): boolean => {
      if (s >= t || share(s, t)) return false;
      at(s, a);
      at(t, b);
      a.needsUpdate = true;
      b.needsUpdate = true;
      if (!inOnePlane(a, b) && (a as Quiet).intersectsTriangle(b, cut, true) && cut.distance() > TOUCH) pairs++;
      return false;
    },
  });
  return pairs;
}

const plane = new Plane();

/** Whether b lies in the plane of a: the library takes such pairs for crossing wherever they lie in it. */
function inOnePlane(a: Triangle, b: Triangle): boolean {
  a.getPlane(plane);
  return [b.a, b.b, b.c].every((corner) => Math.abs(plane.distanceToPoint(corner)) < TOUCH);
}
