import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import { BOUNDARY, nextHalfedge, previousHalfedge } from '../mesh/topology.js';

/**
 * Closes cracks: joins boundary edges whose ends lie together pairwise and whose triangles lie on opposite sides, as two
 * patches leave them that were written apart. Edges of doubled sheets lie together as well, but on the same side, and are
 * left alone. Linear: a hash grid of the edges' middles.
 */
export const STITCH_DEFAULTS = {
  /** Ends count as together within this share of the shorter edge. */
  perEdge: 0.3,
  /** Cosine between the directions into the two triangles, below which they lie on opposite sides. */
  opposite: -0.3,
} as const;

export interface Stitched {
  readonly mesh: Mesh;
  readonly edges: number;
}

/** `twin` pairs halfedges that may run either way; ends farther apart than `reach` (mesh unit) are never joined. */
export function stitch(mesh: Mesh, twin: Int32Array, reach: number): Stitched {
  const { positions: p, triangles } = mesh;
  const rim: number[] = [];
  for (let h = 0; h < twin.length; h++) if (twin[h] === BOUNDARY) rim.push(h);
  const distance = (a: number, b: number): number =>
    Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
  const start = (h: number): number => triangles[h];
  const end = (h: number): number => triangles[nextHalfedge(h)];

  const cell = Math.max(2 * reach, Number.MIN_VALUE * 2 ** 60);
  const cellOf = (h: number, k: number): number => Math.floor((p[3 * start(h) + k] + p[3 * end(h) + k]) / 2 / cell);
  const hash = (i: number, j: number, k: number): number =>
    (Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35)) >>> 0;
  const rows = new Map<number, number[]>();
  for (const h of rim) {
    const key = hash(cellOf(h, 0), cellOf(h, 1), cellOf(h, 2));
    const row = rows.get(key);
    if (row) row.push(h);
    else rows.set(key, [h]);
  }

  const goesTo = Uint32Array.from({ length: vertexCount(mesh) }, (_, v) => v);
  const find = (v: number): number => {
    let root = v;
    while (goesTo[root] !== root) root = goesTo[root];
    while (goesTo[v] !== root) [v, goesTo[v]] = [goesTo[v], root];
    return root;
  };
  const used = new Set<number>();
  let edges = 0;
  for (const h of rim) {
    if (used.has(h)) continue;
    let best = -1;
    let nearest = Infinity;
    let crossed = false;
    const i = cellOf(h, 0);
    const j = cellOf(h, 1);
    const k = cellOf(h, 2);
    for (let n = 0; n < 27; n++) {
      for (const g of rows.get(hash(i + (n % 3) - 1, j + (((n / 3) | 0) % 3) - 1, k + ((n / 9) | 0) - 1)) ?? []) {
        if (g <= h || used.has(g)) continue;
        const near = Math.min(reach, STITCH_DEFAULTS.perEdge * Math.min(distance(start(h), end(h)), distance(start(g), end(g))));
        const against = Math.max(distance(start(h), end(g)), distance(end(h), start(g)));
        const along = Math.max(distance(start(h), start(g)), distance(end(h), end(g)));
        const apart = Math.min(against, along);
        if (apart > near || apart >= nearest || !onOppositeSides(mesh, h, g)) continue;
        nearest = apart;
        best = g;
        crossed = against <= along;
      }
    }
    if (best < 0) continue;
    used.add(best);
    edges++;
    goesTo[find(start(best))] = find(crossed ? end(h) : start(h));
    goesTo[find(end(best))] = find(crossed ? start(h) : end(h));
  }
  if (edges === 0) return { mesh, edges };
  return { mesh: { positions: p, triangles: triangles.map((v) => find(v)) }, edges };
}

function onOppositeSides({ positions: p, triangles }: Mesh, h: number, g: number): boolean {
  const a = 3 * triangles[h];
  const b = 3 * triangles[nextHalfedge(h)];
  const e = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const ee = e[0] * e[0] + e[1] * e[1] + e[2] * e[2];
  const into = [h, g].map((x) => {
    const from = 3 * triangles[x];
    const apex = 3 * triangles[previousHalfedge(x)];
    const u = [p[apex] - p[from], p[apex + 1] - p[from + 1], p[apex + 2] - p[from + 2]];
    const share = ee > 0 ? (u[0] * e[0] + u[1] * e[1] + u[2] * e[2]) / ee : 0;
    return u.map((c, k) => c - share * e[k]);
  });
  const dot = into[0][0] * into[1][0] + into[0][1] * into[1][1] + into[0][2] * into[1][2];
  return dot < STITCH_DEFAULTS.opposite * Math.hypot(...into[0]) * Math.hypot(...into[1]);
}
