import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import { keepTriangles } from '../mesh/components.js';
import { nextHalfedge, previousHalfedge } from '../mesh/topology.js';

/**
 * Gives every vertex one fan of triangles. The mesh is consistently oriented and its halfedges are paired by `twin`, so
 * each edge already has at most two triangles. Where the rim of a hole pinches at a vertex, a small fan is dropped, so
 * that the holes at it become one; every other extra fan gets a vertex of its own at the same place. Linear.
 */
export const NON_MANIFOLD_DEFAULTS = {
  /** Open fans at a pinched rim vertex with at most this many triangles are dropped. */
  droppedFan: 6,
  /** Rounds of dropping; what is pinched after them is split. */
  rounds: 4,
} as const;

export interface Separated {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  /** Vertices that had more than one fan. */
  readonly nonManifoldVertices: number;
  readonly droppedTriangles: number;
}

interface Fans {
  /** The fan of each corner (corner h is at the start of halfedge h). */
  readonly ofCorner: Int32Array;
  readonly count: number;
  readonly size: Uint32Array;
  readonly open: Uint8Array;
  readonly vertex: Uint32Array;
  readonly firstAtVertex: Int32Array;
}

function findFans(triangles: Uint32Array, twin: Int32Array, vertices: number): Fans {
  const ofCorner = new Int32Array(triangles.length).fill(-1);
  const size = new Uint32Array(triangles.length);
  const open = new Uint8Array(triangles.length);
  const vertex = new Uint32Array(triangles.length);
  const firstAtVertex = new Int32Array(vertices).fill(-1);
  let count = 0;
  for (let corner = 0; corner < triangles.length; corner++) {
    if (ofCorner[corner] >= 0) continue;
    let h = corner;
    let corners = 0;
    for (;;) {
      ofCorner[h] = count;
      corners++;
      h = twin[previousHalfedge(h)];
      if (h < 0 || h === corner) break;
    }
    if (h < 0) {
      open[count] = 1;
      for (h = corner; twin[h] >= 0; ) {
        h = nextHalfedge(twin[h]);
        ofCorner[h] = count;
        corners++;
      }
    }
    size[count] = corners;
    vertex[count] = triangles[corner];
    if (firstAtVertex[triangles[corner]] < 0) firstAtVertex[triangles[corner]] = count;
    count++;
  }
  return { ofCorner, count, size, open, vertex, firstAtVertex };
}

export function separateFans(mesh: Mesh, twin: Int32Array): Separated {
  const vertices = vertexCount(mesh);
  let { triangles } = mesh;
  let pairs = twin;
  let droppedTriangles = 0;
  const pinched = new Uint8Array(vertices);
  let fans = findFans(triangles, pairs, vertices);
  for (let round = 0; round < NON_MANIFOLD_DEFAULTS.rounds; round++) {
    const drop = smallPinches(fans, pinched);
    if (!drop) break;
    const keep = new Uint8Array(triangles.length / 3).fill(1);
    for (let h = 0; h < triangles.length; h++) if (drop[fans.ofCorner[h]]) keep[(h / 3) | 0] = 0;
    const before = keep.length;
    ({ triangles, twin: pairs } = keepTriangles(triangles, pairs, keep));
    droppedTriangles += before - triangles.length / 3;
    fans = findFans(triangles, pairs, vertices);
  }

  let extra = 0;
  const place = new Uint32Array(fans.count);
  for (let f = 0; f < fans.count; f++) {
    const v = fans.vertex[f];
    if (fans.firstAtVertex[v] !== f) pinched[v] = 1;
    place[f] = fans.firstAtVertex[v] === f ? v : vertices + extra++;
  }
  let nonManifoldVertices = 0;
  for (let v = 0; v < vertices; v++) nonManifoldVertices += pinched[v];
  if (extra === 0) return { mesh: { positions: mesh.positions, triangles }, twin: pairs, nonManifoldVertices, droppedTriangles };

  const positions = new Float64Array(mesh.positions.length + 3 * extra);
  positions.set(mesh.positions);
  for (let f = 0; f < fans.count; f++) {
    if (place[f] < vertices) continue;
    const from = 3 * fans.vertex[f];
    positions.set(mesh.positions.subarray(from, from + 3), 3 * place[f]);
  }
  const renumbered = triangles.map((_, h) => place[fans.ofCorner[h]]);
  return { mesh: { positions, triangles: renumbered }, twin: pairs, nonManifoldVertices, droppedTriangles };
}

/** Marks the small open fans at vertices with more than one open fan, all but the largest; null where there are none. */
function smallPinches(fans: Fans, pinched: Uint8Array): Uint8Array | null {
  const largest = new Map<number, number>();
  for (let f = 0; f < fans.count; f++) {
    const v = fans.vertex[f];
    if (fans.firstAtVertex[v] === f) continue;
    pinched[v] = 1;
    const first = fans.firstAtVertex[v];
    for (const g of [first, f]) {
      const best = largest.get(v);
      if (fans.open[g] && (best === undefined || fans.size[g] > fans.size[best])) largest.set(v, g);
    }
  }
  if (largest.size === 0) return null;
  const drop = new Uint8Array(fans.count);
  let any = false;
  for (let f = 0; f < fans.count; f++) {
    const best = largest.get(fans.vertex[f]);
    if (best === undefined || best === f || !fans.open[f] || fans.size[f] > NON_MANIFOLD_DEFAULTS.droppedFan) continue;
    drop[f] = 1;
    any = true;
  }
  return any ? drop : null;
}
