import type { Mesh } from './mesh.js';
import { nextHalfedge } from './topology.js';

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
  const squared = (q: Float64Array, a: number, b: number): number => {
    const x = q[3 * a] - q[3 * b];
    const y = q[3 * a + 1] - q[3 * b + 1];
    const z = q[3 * a + 2] - q[3 * b + 2];
    return x * x + y * y + z * z;
  };
  const first = p.length / 3;
  const ends: number[] = [];
  const known = new Map<number, number>();
  /** The new vertex on each halved halfedge. */
  const middle = new Map<number, number>();
  let extra = 0;
  for (let h = 0; h < t.length; h++) {
    const a = t[h];
    const b = t[nextHalfedge(h)];
    if (squared(p, a, b) <= longest * longest || !mayBeSplit(a, b)) continue;
    const edge = Math.min(a, b) * first + Math.max(a, b);
    let at = known.get(edge);
    if (at === undefined) {
      at = first + ends.length / 2;
      known.set(edge, at);
      ends.push(a, b);
    }
    middle.set(h, at);
    extra++;
  }
  if (extra === 0) return { mesh, ends: new Uint32Array(0) };
  const positions = new Float64Array(p.length + (3 * ends.length) / 2);
  positions.set(p);
  for (let i = 0; i < ends.length; i += 2) {
    for (let k = 0; k < 3; k++) positions[p.length + (3 * i) / 2 + k] = (p[3 * ends[i] + k] + p[3 * ends[i + 1] + k]) / 2;
  }
  const triangles = new Uint32Array(t.length + 3 * extra);
  let size = 0;
  const add = (a: number, b: number, c: number): void => {
    triangles[size++] = a;
    triangles[size++] = b;
    triangles[size++] = c;
  };
  const split = new Set<number>();
  for (const h of middle.keys()) split.add(h - (h % 3));
  for (let f = 0; f < t.length; f += 3) {
    if (!split.has(f)) {
      add(t[f], t[f + 1], t[f + 2]);
      continue;
    }
    const on = [0, 1, 2].map((k) => middle.get(f + k) ?? -1);
    const halved = on.filter((m) => m >= 0).length;
    // Turned so that with one halved edge it leads, and with two the whole one is last.
    const turn = halved === 1 ? on.findIndex((m) => m >= 0) : halved === 2 ? (on.indexOf(-1) + 1) % 3 : 0;
    const [a, b, c] = [0, 1, 2].map((k) => t[f + ((k + turn) % 3)]);
    const [ab, bc, ca] = [0, 1, 2].map((k) => on[(k + turn) % 3]);
    add(ab, b, halved === 1 ? c : bc);
    if (halved === 1) add(a, ab, c);
    else if (halved === 3) {
      add(a, ab, ca);
      add(ca, bc, c);
      add(ab, bc, ca);
    } else if (squared(positions, a, bc) < squared(positions, ab, c)) {
      add(a, ab, bc);
      add(a, bc, c);
    } else {
      add(a, ab, c);
      add(ab, bc, c);
    }
  }
  return { mesh: { positions, triangles }, ends: Uint32Array.from(ends) };
}
