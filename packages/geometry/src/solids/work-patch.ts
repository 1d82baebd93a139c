import { compactVertices } from '../mesh/components.js';
import type { Mesh } from '../mesh/mesh.js';
import { sameVertices } from '../mesh/same-vertices.js';
import type { Solid, SolidScope } from './solid.js';
import { BOUNDARY, nextHalfedge, twins } from '../mesh/topology.js';

/**
 * Works on a closed surface at a patch of it alone, as a small solid: the patch is moved along `inward`, walls join the two, and
 * what the work leaves of the patch takes its place in the surface. The time goes with the patch, not with the surface.
 *
 * @param mesh closed; coordinates are 32-bit floats
 * @param patch its triangles, by number: what the work meets of the surface, and its edge, which the work must leave
 * @param inward into the body, farther than the work reaches, in the mesh's unit; no two places of the patch lie over each other along it
 * @returns null where the work has not left the edge of the patch as it was
 * @throws SolidError where the patch makes no solid
 */
export function workPatch(scope: SolidScope, mesh: Mesh, patch: Uint32Array, inward: readonly [number, number, number], work: (solid: Solid) => Solid): Mesh | null {
  const own = partOf(mesh, patch);
  const edge = boundaryOf(own.mesh);
  const far: Mesh = { positions: own.mesh.positions.map((c, i) => Math.fround(c + inward[i % 3])), triangles: own.mesh.triangles };
  const worked = work(scope.ofMesh(walled(own.mesh, far, edge))).toMesh();
  const onFar = sameVertices(worked, far);
  const kept = worked.triangles.filter((_, h) => isKept(worked.triangles, h - (h % 3), onFar));
  const onPatch = sameVertices(worked, own.mesh);
  const rim = boundaryOf({ positions: worked.positions, triangles: kept });
  return sameEdges(rim, edge, onPatch) ? inPlace(mesh, patch, own.vertices, { positions: worked.positions, triangles: kept }, onPatch) : null;
}

/** The triangles of a patch as a mesh of their own, and the vertex of the whole that each of its own is. */
function partOf({ positions: p, triangles: t }: Mesh, patch: Uint32Array): { readonly mesh: Mesh; readonly vertices: Uint32Array } {
  const number = new Map<number, number>();
  const triangles = new Uint32Array(3 * patch.length);
  for (let h = 0; h < triangles.length; h++) {
    const v = t[3 * patch[Math.floor(h / 3)] + (h % 3)];
    if (!number.has(v)) number.set(v, number.size);
    triangles[h] = number.get(v) ?? 0;
  }
  const vertices = Uint32Array.from(number.keys());
  const positions = new Float64Array(3 * vertices.length);
  vertices.forEach((v, i) => positions.set(p.subarray(3 * v, 3 * v + 3), 3 * i));
  return { mesh: { positions, triangles }, vertices };
}

/** The two ends of each edge that has one triangle, as that runs along it. */
function boundaryOf(mesh: Mesh): Uint32Array {
  const { triangles: t } = mesh;
  const ends: number[] = [];
  twins(mesh).forEach((twin, h) => {
    if (twin === BOUNDARY) ends.push(t[h], t[nextHalfedge(h)]);
  });
  return Uint32Array.from(ends);
}

/** The closed surface of a patch, its copy facing the other way, and walls between them. */
function walled({ positions: p, triangles: t }: Mesh, far: Mesh, edge: Uint32Array): Mesh {
  const count = p.length / 3;
  const positions = new Float64Array(2 * p.length);
  positions.set(p);
  positions.set(far.positions, p.length);
  const triangles = new Uint32Array(2 * t.length + 3 * edge.length);
  triangles.set(t);
  for (let f = 0; f < t.length; f += 3) triangles.set([count + t[f], count + t[f + 2], count + t[f + 1]], t.length + f);
  for (let i = 0; i < edge.length; i += 2) {
    const a = edge[i];
    const b = edge[i + 1];
    triangles.set([b, a, count + a, b, count + a, count + b], 2 * t.length + 3 * i);
  }
  return { positions, triangles };
}

/** Whether a triangle of the worked solid is none of walls and copy, which alone have corners of the copy. */
const isKept = (t: Uint32Array, f: number, onFar: Int32Array): boolean => onFar[t[f]] < 0 && onFar[t[f + 1]] < 0 && onFar[t[f + 2]] < 0;

/** Whether two sets of edges are one, those of the first given by vertices that `as` brings to the second's. */
function sameEdges(found: Uint32Array, wanted: Uint32Array, as: Int32Array): boolean {
  if (found.length !== wanted.length) return false;
  const left = new Set<string>();
  for (let i = 0; i < wanted.length; i += 2) left.add(`${wanted[i]} ${wanted[i + 1]}`);
  for (let i = 0; i < found.length; i += 2) left.delete(`${as[found[i]]} ${as[found[i + 1]]}`);
  return left.size === 0;
}

/** The whole with other triangles in place of a patch's; vertices that lie where the patch had one are that one. */
function inPlace(mesh: Mesh, patch: Uint32Array, vertices: Uint32Array, piece: Mesh, onPatch: Int32Array): Mesh {
  const first = mesh.positions.length / 3;
  const place = new Map<number, number>();
  const added: number[] = [];
  const put = (v: number): number => {
    let to = onPatch[v] >= 0 ? vertices[onPatch[v]] : place.get(v);
    if (to === undefined) {
      to = first + added.length / 3;
      place.set(v, to);
      for (let k = 0; k < 3; k++) added.push(Math.fround(piece.positions[3 * v + k]));
    }
    return to;
  };
  const replaced = piece.triangles.map(put);
  const gone = new Uint8Array(mesh.triangles.length / 3);
  for (const f of patch) gone[f] = 1;
  const triangles = new Uint32Array(mesh.triangles.length - 3 * patch.length + replaced.length);
  let size = 0;
  for (let f = 0; f < gone.length; f++) {
    if (gone[f] === 1) continue;
    for (let k = 3 * f; k < 3 * f + 3; k++) triangles[size++] = mesh.triangles[k];
  }
  triangles.set(replaced, size);
  const positions = new Float64Array(mesh.positions.length + added.length);
  positions.set(mesh.positions);
  positions.set(added, mesh.positions.length);
  return compactVertices({ positions, triangles });
}
