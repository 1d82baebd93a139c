import { MeshoptSimplifier } from 'meshoptimizer/simplifier';
import type { Mesh } from '../mesh/mesh.js';
import { triangleCount } from '../mesh/mesh.js';

/** A mesh to look at, of fewer triangles, whose vertices are some of the fine mesh's own. */
export interface LightMesh {
  readonly mesh: Mesh;
  /** For each of its vertices, the vertex of the fine mesh that it is. */
  readonly from: Uint32Array;
}

/**
 * The mesh with at most about so many triangles, by vertices that stand for the cells of a grid: quick, and for the eye
 * alone, because it may join what lies close together. A mesh that is light enough comes back as it is. The fast way to
 * thin a mesh of meshoptimizer (github.com/zeux/meshoptimizer).
 */
export async function lighten(mesh: Mesh, triangles: number): Promise<LightMesh> {
  if (triangleCount(mesh) <= triangles) return { mesh, from: new Uint32Array(mesh.positions.length / 3).map((_, v) => v) };
  await MeshoptSimplifier.ready;
  // The grid is found by halving, so a little less than asked comes out; the error is no limit here.
  const [corners] = MeshoptSimplifier.simplifySloppy(mesh.triangles, new Float32Array(mesh.positions), 3, null, 3 * triangles, 1);
  return used(mesh, corners);
}

/** The triangles of some corners of a mesh with the vertices that they use, in the order of their first use. */
function used({ positions }: Mesh, corners: Uint32Array): LightMesh {
  const place = new Int32Array(positions.length / 3).fill(-1);
  const from: number[] = [];
  const triangles = corners.map((v) => {
    if (place[v] < 0) {
      place[v] = from.length;
      from.push(v);
    }
    return place[v];
  });
  const kept = new Float64Array(3 * from.length);
  from.forEach((v, i) => kept.set(positions.subarray(3 * v, 3 * v + 3), 3 * i));
  return { mesh: { positions: kept, triangles }, from: Uint32Array.from(from) };
}
