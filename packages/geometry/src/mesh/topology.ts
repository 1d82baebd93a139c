import type { Mesh } from './mesh.js';
import { vertexCount } from './mesh.js';

/** Halfedge 3t+k runs from corner k of triangle t to corner k+1. */
export const nextHalfedge = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);

export const previousHalfedge = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);

export const BOUNDARY = -1;
export const NON_MANIFOLD = -2;

/** Lists of varying length side by side: those of row i are items[offsets[i]] … items[offsets[i + 1] − 1]. */
export interface Rows {
  readonly offsets: Uint32Array;
  readonly items: Uint32Array;
}

/** The triangles at each vertex, in rising order. */
export function vertexTriangles(mesh: Mesh): Rows {
  const { triangles } = mesh;
  const offsets = new Uint32Array(vertexCount(mesh) + 1);
  for (let h = 0; h < triangles.length; h++) offsets[triangles[h] + 1]++;
  for (let v = 1; v < offsets.length; v++) offsets[v] += offsets[v - 1];
  const items = new Uint32Array(triangles.length);
  const cursor = offsets.slice();
  for (let h = 0; h < triangles.length; h++) items[cursor[triangles[h]]++] = (h / 3) | 0;
  return { offsets, items };
}

/** Sorts the items from `from` up to `to`: few by insertion, many by the engine's n log n sort. */
function sortByKey(items: Uint32Array, from: number, to: number, key: Uint32Array): void {
  if (to - from > 32) {
    items.subarray(from, to).sort((a, b) => key[a] - key[b]);
    return;
  }
  for (let i = from + 1; i < to; i++) {
    const item = items[i];
    let j = i - 1;
    for (; j >= from && key[items[j]] > key[item]; j--) items[j + 1] = items[j];
    items[j + 1] = item;
  }
}

/**
 * The opposite halfedge of each halfedge: BOUNDARY where an edge has one triangle, NON_MANIFOLD where it has more than
 * two or two that run the same way.
 */
export function twins(mesh: Mesh): Int32Array {
  const { triangles } = mesh;
  const count = triangles.length;
  const starts = new Uint32Array(vertexCount(mesh) + 1);
  const low = new Uint32Array(count);
  const high = new Uint32Array(count);
  for (let h = 0; h < count; h++) {
    const a = triangles[h];
    const b = triangles[nextHalfedge(h)];
    low[h] = Math.min(a, b);
    high[h] = Math.max(a, b);
    starts[low[h] + 1]++;
  }
  for (let v = 1; v < starts.length; v++) starts[v] += starts[v - 1];
  const byLow = new Uint32Array(count);
  const cursor = starts.slice();
  for (let h = 0; h < count; h++) byLow[cursor[low[h]]++] = h;

  const twin = new Int32Array(count).fill(BOUNDARY);
  for (let v = 0; v + 1 < starts.length; v++) {
    const end = starts[v + 1];
    sortByKey(byLow, starts[v], end, high);
    for (let i = starts[v], j = i; i < end; i = j) {
      for (j = i + 1; j < end && high[byLow[j]] === high[byLow[i]]; ) j++;
      if (j - i === 2 && triangles[byLow[i]] !== triangles[byLow[i + 1]]) {
        twin[byLow[i]] = byLow[i + 1];
        twin[byLow[i + 1]] = byLow[i];
      } else if (j - i > 1) {
        for (let k = i; k < j; k++) twin[byLow[k]] = NON_MANIFOLD;
      }
    }
  }
  return twin;
}

/** The vertices joined to each vertex by an edge, each once. */
export function vertexNeighbours(mesh: Mesh, around: Rows = vertexTriangles(mesh)): Rows {
  const { triangles } = mesh;
  const vertices = vertexCount(mesh);
  const offsets = new Uint32Array(vertices + 1);
  const found = new Uint32Array(2 * triangles.length);
  const seenBy = new Int32Array(vertices).fill(-1);
  let size = 0;
  for (let v = 0; v < vertices; v++) {
    for (let i = around.offsets[v]; i < around.offsets[v + 1]; i++) {
      for (let k = 0; k < 3; k++) {
        const w = triangles[3 * around.items[i] + k];
        if (w !== v && seenBy[w] !== v) {
          seenBy[w] = v;
          found[size++] = w;
        }
      }
    }
    offsets[v + 1] = size;
  }
  return { offsets, items: found.slice(0, size) };
}

/**
 * The boundary loops, each as its vertices in the order of the boundary halfedges (surface on the left seen from
 * outside). A vertex where the boundary pinches closes a loop and opens the next, so no loop repeats a vertex.
 */
export function boundaryLoops(mesh: Mesh, twin: Int32Array = twins(mesh)): Uint32Array[] {
  const { triangles } = mesh;
  const firstOut = new Int32Array(vertexCount(mesh)).fill(-1);
  const nextOut = new Int32Array(triangles.length).fill(-1);
  for (let h = triangles.length - 1; h >= 0; h--) {
    if (twin[h] !== BOUNDARY) continue;
    nextOut[h] = firstOut[triangles[h]];
    firstOut[triangles[h]] = h;
  }
  const loops: Uint32Array[] = [];
  const placeOnPath = new Int32Array(vertexCount(mesh)).fill(-1);
  for (let start = 0; start < triangles.length; start++) {
    if (twin[start] !== BOUNDARY) continue;
    const path: number[] = [];
    let vertex = triangles[start];
    for (;;) {
      if (placeOnPath[vertex] >= 0) {
        const loop = path.splice(placeOnPath[vertex]);
        for (const v of loop) placeOnPath[v] = -1;
        if (loop.length >= 3) loops.push(Uint32Array.from(loop));
      }
      const h = firstOut[vertex];
      if (h < 0) break;
      firstOut[vertex] = nextOut[h];
      placeOnPath[vertex] = path.length;
      path.push(vertex);
      vertex = triangles[nextHalfedge(h)];
    }
    for (const v of path) placeOnPath[v] = -1;
  }
  return loops;
}
