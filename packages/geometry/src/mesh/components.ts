import type { Mesh } from './mesh.js';
import { triangleCount, vertexCount } from './mesh.js';
import { triangleNormals } from './quantities.js';

/** The connected pieces of a mesh (joined across edges), and the mesh cut down to some of its triangles. */
export interface Pieces {
  /** The piece of each triangle, numbered from 0 in the order of their first triangles. */
  readonly piece: Int32Array;
  readonly count: number;
}

/** Pieces of triangles whose halfedges are paired by `twin` (negative: no neighbour); triangles not in `among` are −1. */
export function connectedPieces(twin: Int32Array, among?: Uint8Array): Pieces {
  const triangles = twin.length / 3;
  const piece = new Int32Array(triangles).fill(-1);
  const queue = new Uint32Array(triangles);
  let count = 0;
  for (let seed = 0; seed < triangles; seed++) {
    if (piece[seed] >= 0 || (among && !among[seed])) continue;
    piece[seed] = count;
    queue[0] = seed;
    for (let head = 0, tail = 1; head < tail; head++) {
      const t = queue[head];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (twin[h] < 0) continue;
        const s = (twin[h] / 3) | 0;
        if (piece[s] >= 0 || (among && !among[s])) continue;
        piece[s] = count;
        queue[tail++] = s;
      }
    }
    count++;
  }
  return { piece, count };
}

/** Area of each piece, in the square of the mesh's unit. Pass the doubled triangle normals where they are at hand. */
export function pieceAreas(mesh: Mesh, pieces: Pieces, normals: Float64Array = triangleNormals(mesh)): Float64Array {
  const areas = new Float64Array(pieces.count);
  for (let t = 0; t < triangleCount(mesh); t++) {
    if (pieces.piece[t] < 0) continue;
    const x = normals[3 * t];
    const y = normals[3 * t + 1];
    const z = normals[3 * t + 2];
    areas[pieces.piece[t]] += Math.sqrt(x * x + y * y + z * z) / 2;
  }
  return areas;
}

/** The triangles marked in `keep`, in their order, and their halfedge pairs; pairs with dropped ones become −1. */
export function keepTriangles(
  triangles: Uint32Array,
  twin: Int32Array,
  keep: Uint8Array,
): { triangles: Uint32Array; twin: Int32Array } {
  const place = new Int32Array(keep.length).fill(-1);
  let kept = 0;
  for (let t = 0; t < keep.length; t++) if (keep[t]) place[t] = kept++;
  const outTriangles = new Uint32Array(3 * kept);
  const outTwin = new Int32Array(3 * kept);
  for (let t = 0; t < keep.length; t++) {
    if (place[t] < 0) continue;
    for (let k = 0; k < 3; k++) {
      const to = 3 * place[t] + k;
      const g = twin[3 * t + k];
      outTriangles[to] = triangles[3 * t + k];
      if (g < 0) {
        outTwin[to] = g;
        continue;
      }
      const s = (g / 3) | 0;
      outTwin[to] = place[s] < 0 ? -1 : 3 * place[s] + (g - 3 * s);
    }
  }
  return { triangles: outTriangles, twin: outTwin };
}

/** The mesh without vertices that no triangle uses; vertices and triangles keep their order. */
export function compactVertices(mesh: Mesh): Mesh {
  const { positions, triangles } = mesh;
  const place = new Int32Array(vertexCount(mesh)).fill(-1);
  for (let h = 0; h < triangles.length; h++) place[triangles[h]] = 0;
  let used = 0;
  for (let v = 0; v < place.length; v++) if (place[v] === 0) place[v] = used++;
  if (used === place.length) return mesh;
  const kept = new Float64Array(3 * used);
  for (let v = 0; v < place.length; v++) {
    if (place[v] < 0) continue;
    const to = 3 * place[v];
    kept[to] = positions[3 * v];
    kept[to + 1] = positions[3 * v + 1];
    kept[to + 2] = positions[3 * v + 2];
  }
  const renumbered = new Uint32Array(triangles.length);
  for (let h = 0; h < triangles.length; h++) renumbered[h] = place[triangles[h]];
  return { positions: kept, triangles: renumbered };
}
