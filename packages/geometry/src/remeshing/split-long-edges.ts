import type { Mesh } from '../mesh/mesh.js';
import { nextHalfedge } from '../mesh/topology.js';
import { squaredDistance } from '../numerics/lengths.js';

export interface SplitEdges {
  /** The vertices of the mesh that was split come first. */
  readonly mesh: Mesh;
  /** The two ends of the edge that each new vertex halves. */
  readonly ends: Uint32Array;
}

/**
 * Halves every edge longer than `longest` once; triangles are split into two, three or four. The result is as manifold as
 * the mesh was.
 *
 * @param mayBeSplit whether an edge between two vertices may be split; asked only of long ones
 */
export function splitLongEdges(mesh: Mesh, longest: number, mayBeSplit: (a: number, b: number) => boolean = () => true): SplitEdges {
  const { positions: p, triangles: t } = mesh;
  const { ends, middle, extra } = halvedEdges(mesh, longest, mayBeSplit);
  if (extra === 0) return { mesh, ends: new Uint32Array(0) };
  const positions = new Float64Array(p.length + (3 * ends.length) / 2);
  positions.set(p);
  for (let i = 0; i < ends.length; i += 2) {
    for (let k = 0; k < 3; k++) positions[p.length + (3 * i) / 2 + k] = (p[3 * ends[i] + k] + p[3 * ends[i + 1] + k]) / 2;
  }
  const triangles = new Uint32Array(t.length + 3 * extra);
  let size = 0;
  for (let f = 0; f < t.length; f += 3) size = splitTriangle(positions, t, middle, f, triangles, size);
  return { mesh: { positions, triangles }, ends: Uint32Array.from(ends) };
}

interface HalvedEdges {
  /** The two ends of each edge that is halved. */
  readonly ends: readonly number[];
  /** The new vertex on each halfedge; −1 on those that are not halved. */
  readonly middle: Int32Array;
  /** How many halfedges are halved. */
  readonly extra: number;
}

function halvedEdges({ positions: p, triangles: t }: Mesh, longest: number, mayBeSplit: (a: number, b: number) => boolean): HalvedEdges {
  const first = p.length / 3;
  const ends: number[] = [];
  const known = new Map<number, number>();
  const middle = new Int32Array(t.length).fill(-1);
  let extra = 0;
  for (let h = 0; h < t.length; h++) {
    const a = t[h];
    const b = t[nextHalfedge(h)];
    if (squaredDistance(p, a, b) <= longest * longest || !mayBeSplit(a, b)) continue;
    const edge = Math.min(a, b) * first + Math.max(a, b);
    let at = known.get(edge);
    if (at === undefined) {
      at = first + ends.length / 2;
      known.set(edge, at);
      ends.push(a, b);
    }
    middle[h] = at;
    extra++;
  }
  return { ends, middle, extra };
}

/** Writes what becomes of triangle f, one to four triangles, to `out` from `size` on; returns the size after it. */
function splitTriangle(p: Float64Array, t: Uint32Array, middle: Int32Array, f: number, out: Uint32Array, size: number): number {
  const halved = +(middle[f] >= 0) + +(middle[f + 1] >= 0) + +(middle[f + 2] >= 0);
  if (halved === 0) return added(out, size, t[f], t[f + 1], t[f + 2]);
  // Turned so that with one halved edge it leads, and with two the whole one is last.
  let lead = f;
  if (halved < 3) while (middle[lead] < 0 || (halved === 2 && middle[nextHalfedge(lead)] < 0)) lead++;
  const next = nextHalfedge(lead);
  const last = nextHalfedge(next);
  const a = t[lead];
  const b = t[next];
  const c = t[last];
  const ab = middle[lead];
  const bc = middle[next];
  const ca = middle[last];
  if (halved === 1) return added(out, added(out, size, ab, b, c), a, ab, c);
  const at = added(out, size, ab, b, bc);
  if (halved === 3) return added(out, added(out, added(out, at, a, ab, ca), ca, bc, c), ab, bc, ca);
  if (squaredDistance(p, a, bc) < squaredDistance(p, ab, c)) return added(out, added(out, at, a, ab, bc), a, bc, c);
  return added(out, added(out, at, a, ab, c), ab, bc, c);
}

function added(out: Uint32Array, size: number, a: number, b: number, c: number): number {
  out[size] = a;
  out[size + 1] = b;
  out[size + 2] = c;
  return size + 3;
}
