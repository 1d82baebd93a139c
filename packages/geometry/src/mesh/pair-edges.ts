import type { Mesh } from './mesh.js';
import { triangleCount, vertexCount } from './mesh.js';
import { BOUNDARY, nextHalfedge } from './topology.js';
import { triangleNormals } from './quantities.js';

/**
 * Pairs the halfedges of a mesh whose triangles may turn either way, so that each edge joins at most two triangles.
 * Where more than two meet, the pair that carries on the largest patch stays joined, then pairs of one smaller patch;
 * the others become boundary. A patch is what hangs together across edges of exactly two triangles.
 */
export interface EdgePairs {
  /** The other halfedge of each halfedge's edge, running either way; BOUNDARY where it has none. */
  readonly twin: Int32Array;
  /** Edges with one triangle. */
  readonly boundaryEdges: number;
  /** Edges with more than two triangles. */
  readonly nonManifoldEdges: number;
}

/** Rows longer than this (hubs of fans) are sorted, so that no vertex costs the square of its valence. */
const LONG_ROW = 64;

function sortRow(items: Uint32Array, keys: Uint32Array, start: number, end: number): void {
  const order = Uint32Array.from({ length: end - start }, (_, i) => start + i).sort((x, y) => keys[x] - keys[y]);
  const sortedItems = order.map((x) => items[x]);
  keys.set(order.map((x) => keys[x]), start);
  items.set(sortedItems, start);
}

export function pairEdges(mesh: Mesh): EdgePairs {
  const { triangles } = mesh;
  const count = triangles.length;
  const starts = new Uint32Array(vertexCount(mesh) + 1);
  for (let h = 0; h < count; h++) starts[Math.min(triangles[h], triangles[nextHalfedge(h)])]++;
  for (let v = 0, sum = 0; v < starts.length; v++) {
    sum += starts[v];
    starts[v] = sum;
  }
  const byLow = new Uint32Array(count);
  const high = new Uint32Array(count);
  for (let h = count - 1; h >= 0; h--) {
    const a = triangles[h];
    const b = triangles[nextHalfedge(h)];
    const place = --starts[Math.min(a, b)];
    byLow[place] = h;
    high[place] = Math.max(a, b);
  }

  const twin = new Int32Array(count).fill(BOUNDARY);
  const crowded: number[][] = [];
  let boundaryEdges = 0;
  const done = new Uint8Array(count);
  for (let v = 0; v + 1 < starts.length; v++) {
    const end = starts[v + 1];
    const sorted = end - starts[v] > LONG_ROW;
    if (sorted) sortRow(byLow, high, starts[v], end);
    for (let i = starts[v]; i < end; i++) {
      if (done[i]) continue;
      const w = high[i];
      let met = 1;
      let other = -1;
      for (let j = i + 1; j < end; j++) {
        if (high[j] !== w) {
          if (sorted) break;
          continue;
        }
        done[j] = 1;
        other = j;
        met++;
      }
      if (met === 1) boundaryEdges++;
      else if (met === 2) {
        twin[byLow[i]] = byLow[other];
        twin[byLow[other]] = byLow[i];
      } else {
        const edge: number[] = [];
        for (let j = i; j < end; j++) if (high[j] === w) edge.push(byLow[j]);
        crowded.push(edge);
      }
    }
  }
  if (crowded.length > 0) pairCrowded(mesh, twin, crowded);
  return { twin, boundaryEdges, nonManifoldEdges: crowded.length };
}

/** Settles the edges with more than two triangles, writing into `twin`. */
function pairCrowded(mesh: Mesh, twin: Int32Array, crowded: readonly number[][]): void {
  const normals = triangleNormals(mesh);
  const { patch, area } = patches(mesh, twin, normals);
  const { triangles, positions: p } = mesh;

  /** Cosine between the directions in which the two triangles leave the edge: −1 where the surface runs straight on. */
  const foldCosine = (h: number, g: number): number => {
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextHalfedge(h)];
    const e = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const ee = e[0] * e[0] + e[1] * e[1] + e[2] * e[2];
    const away = [h, g].map((x) => {
      const c = 3 * triangles[nextHalfedge(nextHalfedge(x))];
      const u = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      const along = ee > 0 ? (u[0] * e[0] + u[1] * e[1] + u[2] * e[2]) / ee : 0;
      return u.map((c2, k) => c2 - along * e[k]);
    });
    const norm = Math.hypot(...away[0]) * Math.hypot(...away[1]);
    return norm > 0 ? (away[0][0] * away[1][0] + away[0][1] * away[1][1] + away[0][2] * away[1][2]) / norm : 1;
  };

  for (const edge of crowded) {
    const of = (h: number): number => patch[(h / 3) | 0];
    const left = edge.slice().sort((h, g) => area[of(g)] - area[of(h)] || of(h) - of(g) || h - g);
    for (let round = 0; left.length > 1; round++) {
      const h = left.shift() as number;
      const rank = (g: number): number[] => [
        of(g) === of(h) ? 0 : 1,
        triangles[g] === triangles[h] ? 1 : 0,
        -area[of(g)],
        foldCosine(h, g),
      ];
      const ranked = left.map((g) => ({ g, rank: rank(g) }));
      ranked.sort((x, y) => x.rank[0] - y.rank[0] || x.rank[1] - y.rank[1] || x.rank[2] - y.rank[2] || x.rank[3] - y.rank[3]);
      const best = ranked[0];
      if (round > 0 && best.rank[0] === 1) continue;
      twin[h] = best.g;
      twin[best.g] = h;
      left.splice(left.indexOf(best.g), 1);
    }
  }
}

/** The patch of each triangle, and the area of each patch. */
function patches(mesh: Mesh, twin: Int32Array, normals: Float64Array): { patch: Int32Array; area: Float64Array } {
  const count = triangleCount(mesh);
  const patch = new Int32Array(count).fill(-1);
  const queue = new Uint32Array(count);
  const area = new Float64Array(count);
  let found = 0;
  for (let seed = 0; seed < count; seed++) {
    if (patch[seed] >= 0) continue;
    patch[seed] = found;
    queue[0] = seed;
    for (let head = 0, tail = 1; head < tail; head++) {
      const t = queue[head];
      area[found] += Math.hypot(normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]) / 2;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const s = twin[h] < 0 ? -1 : (twin[h] / 3) | 0;
        if (s < 0 || patch[s] >= 0) continue;
        patch[s] = found;
        queue[tail++] = s;
      }
    }
    found++;
  }
  return { patch, area: area.slice(0, found) };
}
