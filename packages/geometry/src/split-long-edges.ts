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
 * @param twin of each halfedge, as twins() gives it
 * @param mayBeSplit whether an edge between two vertices may be split
 */
export function splitLongEdges(mesh: Mesh, twin: Int32Array, longest: number, mayBeSplit: (a: number, b: number) => boolean = () => true): SplitEdges {
  const { positions: p, triangles: t } = mesh;
  const squared = (a: number, b: number): number => {
    const [x, y, z] = [p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]];
    return x * x + y * y + z * z;
  };
  const first = p.length / 3;
  const ends: number[] = [];
  const middle = new Int32Array(t.length).fill(-1);
  for (let h = 0; h < t.length; h++) {
    if (middle[h] >= 0) continue;
    const [a, b] = [t[h], t[nextHalfedge(h)]];
    if (squared(a, b) <= longest * longest || !mayBeSplit(a, b)) continue;
    middle[h] = first + ends.length / 2;
    if (twin[h] >= 0) middle[twin[h]] = middle[h];
    ends.push(a, b);
  }
  if (ends.length === 0) return { mesh, ends: new Uint32Array(0) };
  const positions = new Float64Array(p.length + (3 * ends.length) / 2);
  positions.set(p);
  for (let i = 0; i < ends.length; i += 2) {
    for (let k = 0; k < 3; k++) positions[p.length + (3 * i) / 2 + k] = (p[3 * ends[i] + k] + p[3 * ends[i + 1] + k]) / 2;
  }
  const triangles: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    const halved = (middle[f] >= 0 ? 1 : 0) + (middle[f + 1] >= 0 ? 1 : 0) + (middle[f + 2] >= 0 ? 1 : 0);
    // Turned so that with one halved edge it leads, and with two the whole one is last.
    let turn = 0;
    if (halved === 1) while (middle[f + turn] < 0) turn++;
    if (halved === 2) while (middle[f + ((turn + 2) % 3)] >= 0) turn++;
    const [a, b, c] = [0, 1, 2].map((k) => t[f + ((k + turn) % 3)]);
    const [ab, bc, ca] = [0, 1, 2].map((k) => middle[f + ((k + turn) % 3)]);
    if (halved === 0) triangles.push(a, b, c);
    else if (halved === 1) triangles.push(a, ab, c, ab, b, c);
    else if (halved === 3) triangles.push(a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca);
    else {
      triangles.push(ab, b, bc);
      const across = (u: number, v: number): number =>
        Math.hypot(positions[3 * u] - positions[3 * v], positions[3 * u + 1] - positions[3 * v + 1], positions[3 * u + 2] - positions[3 * v + 2]);
      if (across(a, bc) < across(ab, c)) triangles.push(a, ab, bc, a, bc, c);
      else triangles.push(a, ab, c, ab, bc, c);
    }
  }
  return { mesh: { positions, triangles: Uint32Array.from(triangles) }, ends: Uint32Array.from(ends) };
}
