import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { fieldNormals, flipToDelaunay, jitter, projectWithin, relax, subdivide, type ExactMesh } from './densify.js';
import { isManifold } from './halfedges.js';
import type { Field } from './implicit.js';
import { meshField } from './mesh-field.js';
import type { Random } from '../random.js';

/** Whether a point belongs to the cast: below the cut at the top. */
export type Below = (x: number, y: number, z: number) => boolean;

/** The triangles for which `keep` holds, with the vertices they use; `from` gives each kept vertex's old number. */
export function keepTriangles(mesh: Mesh, keep: (triangle: number) => boolean): { mesh: Mesh; from: Uint32Array } {
  const number = new Int32Array(mesh.positions.length / 3).fill(-1);
  const from: number[] = [];
  const triangles: number[] = [];
  for (let t = 0; t < mesh.triangles.length / 3; t++) {
    if (!keep(t)) continue;
    for (let k = 0; k < 3; k++) {
      const v = mesh.triangles[3 * t + k];
      if (number[v] < 0) number[v] = from.push(v) - 1;
      triangles.push(number[v]);
    }
  }
  const positions = new Float64Array(3 * from.length);
  from.forEach((v, i) => positions.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i));
  return { mesh: { positions, triangles: Uint32Array.from(triangles) }, from: Uint32Array.from(from) };
}

/** The triangles whose three corners satisfy `below`. */
export function trim(mesh: Mesh, below: Below): Mesh {
  const p = mesh.positions;
  const inside = Uint8Array.from({ length: p.length / 3 }, (_, v) => (below(p[3 * v], p[3 * v + 1], p[3 * v + 2]) ? 1 : 0));
  return keepTriangles(mesh, (t) => [0, 1, 2].every((k) => inside[mesh.triangles[3 * t + k]] === 1)).mesh;
}

/** Surface nets whose edges all have two triangles (a boundary one): the grid is shifted until the net has none of the rare pinches. */
export function manifoldNet(field: Field, box: Float64Array, cell: number): Mesh {
  for (let attempt = 0; attempt < 12; attempt++) {
    const mesh = meshField(field, box.map((c, k) => c - (k < 3 ? (attempt * (0.37 + 0.11 * k) % 1) * cell : 0)), cell);
    if (isManifold(mesh)) return mesh;
  }
  throw new Error('no grid gives a manifold mesh of this surface');
}

/**
 * The zero set of `field` in `box`, in about `triangles` irregular triangles with every vertex on the surface (1e-6 mm).
 * Only what `below` lets through is built.
 */
export function buildSurface(field: Field, box: Float64Array, triangles: number, below: Below, random: Random): ExactMesh {
  const share = trim(meshField(field, box, 7), below).triangles.length / 3;
  const levels = Math.max(0, Math.ceil(Math.log(triangles / (share * (7 / 3.1) ** 2)) / Math.log(4)));
  const cell = 7 * Math.sqrt((share * 4 ** levels) / triangles);
  let mesh = trim(manifoldNet(field, box, cell), (x, y, z) => below(x, y, z - 2.5 * cell));
  // A flat place of the field throws a vertex far out now and then.
  const reach = 2 * cell;
  for (let i = 0; i < 3; i++) {
    mesh = { positions: relax(mesh, 0.5), triangles: mesh.triangles };
    projectWithin(field, mesh.positions, 1, reach);
  }
  for (let level = 0; level < levels; level++) {
    mesh = subdivide(mesh);
    if (level < levels - 1) projectWithin(field, mesh.positions, 1, reach);
  }
  const positions = jitter(mesh, 0.3, random);
  projectWithin(field, positions, 6, reach);
  const kept = trim({ positions, triangles: flipToDelaunay({ positions, triangles: mesh.triangles }) }, below);
  return { ...kept, normals: fieldNormals(field, kept.positions) };
}
