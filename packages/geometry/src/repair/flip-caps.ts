import type { Mesh } from '../mesh/mesh.js';
import { BOUNDARY, nextHalfedge, previousHalfedge } from '../mesh/topology.js';
import { keepTriangles } from '../mesh/components.js';
import { squaredDistance } from '../numerics/lengths.js';

/**
 * Removes caps: triangles with three different corners that all but lie on one line, as T-junctions leave them. The
 * longest edge is flipped into the neighbour; on a boundary the triangle is dropped. Linear in the number of caps.
 */
export interface Uncapped {
  readonly triangles: Uint32Array;
  readonly twin: Int32Array;
  readonly flipped: number;
  readonly dropped: number;
}

/** `mesh` is manifold and oriented, `twin` its halfedge pairs; a cap is lower than `height` (mesh unit). */
export function flipCaps(mesh: Mesh, twin: Int32Array, height: number): Uncapped {
  const { positions: p } = mesh;
  const triangles = mesh.triangles.slice();
  const pair = twin.slice();
  const keep = new Uint8Array(triangles.length / 3).fill(1);
  let flipped = 0;
  let dropped = 0;

  const squaredLength = (h: number): number => squaredDistance(p, triangles[h], triangles[nextHalfedge(h)]);
  /** Height over the longest edge. */
  const lowest = (a: number, b: number, c: number): number => {
    const i = 3 * a;
    const j = 3 * b;
    const k = 3 * c;
    const ux = p[j] - p[i], uy = p[j + 1] - p[i + 1], uz = p[j + 2] - p[i + 2];
    const vx = p[k] - p[i], vy = p[k + 1] - p[i + 1], vz = p[k + 2] - p[i + 2];
    const cross = Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2);
    const longest = Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, (ux - vx) ** 2 + (uy - vy) ** 2 + (uz - vz) ** 2);
    return longest > 0 ? cross / Math.sqrt(longest) : 0;
  };
  const joined = (h: number, other: number): boolean => {
    for (let e = h; ; ) {
      if (triangles[nextHalfedge(e)] === other || triangles[previousHalfedge(e)] === other) return true;
      e = pair[previousHalfedge(e)];
      if (e === h) return false;
      if (e < 0) break;
    }
    for (let e = pair[h]; e >= 0; ) {
      const out = nextHalfedge(e);
      if (triangles[nextHalfedge(out)] === other) return true;
      e = pair[out];
    }
    return false;
  };

  for (let t = 0; t < keep.length; t++) {
    if (lowest(triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]) >= height) continue;
    const h = [3 * t, 3 * t + 1, 3 * t + 2].reduce((best, e) => (squaredLength(e) > squaredLength(best) ? e : best));
    const g = pair[h];
    const h1 = nextHalfedge(h);
    const h2 = previousHalfedge(h);
    if (g < 0) {
      keep[t] = 0;
      dropped++;
      for (const e of [h1, h2]) if (pair[e] >= 0) pair[pair[e]] = BOUNDARY;
      continue;
    }
    const g1 = nextHalfedge(g);
    const g2 = previousHalfedge(g);
    const a = triangles[h];
    const b = triangles[h1];
    const c = triangles[h2];
    const d = triangles[g2];
    const before = Math.min(lowest(a, b, c), lowest(b, a, d));
    if (c === d || joined(h2, d) || Math.min(lowest(a, d, c), lowest(d, b, c)) <= before) continue;
    const bc = pair[h1];
    const ad = pair[g1];
    triangles[h1] = d;
    triangles[g1] = c;
    pair[h] = ad;
    if (ad >= 0) pair[ad] = h;
    pair[g] = bc;
    if (bc >= 0) pair[bc] = g;
    pair[h1] = g1;
    pair[g1] = h1;
    flipped++;
  }
  if (dropped === 0) return { triangles, twin: pair, flipped, dropped };
  return { ...keepTriangles(triangles, pair, keep), flipped, dropped };
}
