import { BufferAttribute, BufferGeometry, Matrix4, Triangle, Vector3 } from 'three';
import { ExtendedTriangle, MeshBVH } from 'three-mesh-bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh';

const SAME_PLACE = new Matrix4();

/**
 * Pairs of triangles that cross each other, by three-mesh-bvh: its own tree and its own test of two triangles. Pairs that
 * share a vertex, or touch at one place, are neighbours and do not count.
 */
export function crossingPairsByBvh({ positions, triangles }: Mesh): number {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(positions), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  const bvh = new MeshBVH(geometry, { indirect: true });
  let pairs = 0;
  const [a, b] = [new ExtendedTriangle(), new ExtendedTriangle()];
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
      if (a.intersectsTriangle(b)) pairs++;
      return false;
    },
  });
  return pairs;
}
