import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import { flipCaps } from '@cast-to-last/geometry/repair/flip-caps';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { nextHalfedge, previousHalfedge, twins, vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';

/** Corners nearer than this are one, mm: equal 32-bit coordinates, and none that differ where a last has them. */
export const SAME = 1e-9;

export const AS_WRITTEN = {
  /** Corners nearer than this are made one, mm: cuts leave slivers between them that would cross what is beside them. */
  merge: 3e-4,
  /** How far a corner is moved off another one, mm; further each round. */
  nudge: 1e-3,
  rounds: 6,
} as const;

/**
 * A closed surface as a file of 32-bit coordinates holds it. Corners that come to lie on each other are one there, and what
 * loses its area by that is gone. Where by that more than two triangles meet in an edge, a reader could not tell which of them
 * belong together: there the corners are moved apart by a thousandth of a millimetre, and an edge that stands twice between
 * the same corners has one of its two bent by as much.
 */
export function asWritten({ positions, triangles }: Mesh, merge: number = AS_WRITTEN.merge): Mesh {
  const nudge = Math.max(AS_WRITTEN.nudge, 3 * merge);
  let mesh: Mesh = { positions: inFloat32(positions), triangles };
  for (let round = 1; ; round++) {
    const { mesh: joined, vertex } = weld(mesh, merge);
    const whole = { positions: joined.positions, triangles: withoutCollapsed(joined.triangles) };
    const twin = twins(whole);
    const closed = twin.every((h) => h >= 0);
    if (closed || round > AS_WRITTEN.rounds) {
      // A corner that all but lies on the edge across from it would cross what is behind that edge.
      const written = closed ? { ...whole, triangles: flipCaps(whole, twin, merge).triangles } : whole;
      return written.triangles.length === triangles.length ? written : compactVertices(written);
    }
    mesh = apart(mesh, vertex, whole, twin, round * nudge) ?? withBentEdges(mesh, twins(mesh), round * nudge);
  }
}

const inFloat32 = (positions: ArrayLike<number>): Float64Array<ArrayBuffer> => new Float64Array(new Float32Array(positions));

function withoutCollapsed(t: Uint32Array): Uint32Array {
  const kept = new Uint32Array(t.length);
  let n = 0;
  for (let i = 0; i < t.length; i += 3) {
    if (t[i] === t[i + 1] || t[i + 1] === t[i + 2] || t[i + 2] === t[i]) continue;
    kept.set(t.subarray(i, i + 3), n);
    n += 3;
  }
  return kept.slice(0, n);
}

/** Moves corners that lie on another one in an edge that more than two triangles meet in towards the middle of their neighbours; null where there are none. */
function apart(mesh: Mesh, vertex: Uint32Array, whole: Mesh, twin: Int32Array, by: number): Mesh | null {
  const faulty = new Uint8Array(vertexCount(whole));
  for (let h = 0; h < twin.length; h++) if (twin[h] < 0) faulty[whole.triangles[h]] = 1;
  const { offsets, items } = vertexNeighbours(mesh);
  const p = mesh.positions;
  const out = p.slice();
  const met = new Uint8Array(vertexCount(whole));
  let moved = 0;
  for (let v = 0; v < vertex.length; v++) {
    if (faulty[vertex[v]] === 0 || met[vertex[v]]++ === 0) continue;
    const around = items.subarray(offsets[v], offsets[v + 1]);
    const way = [0, 1, 2].map((k) => around.reduce((sum, n) => sum + p[3 * n + k], 0) / around.length - p[3 * v + k]);
    const length = Math.hypot(...way) || 1;
    for (let k = 0; k < 3; k++) out[3 * v + k] += (by * way[k]) / length;
    moved++;
  }
  return moved === 0 ? null : { positions: inFloat32(out), triangles: mesh.triangles };
}

/** Gives one pair of the triangles at each edge that four meet in a corner of its own in the middle, moved towards the middle of the pair. */
function withBentEdges(mesh: Mesh, twin: Int32Array, by: number): Mesh {
  const { positions: p, triangles: t } = mesh;
  const ends = (h: number): string => [t[h], t[nextHalfedge(h)]].sort((a, b) => a - b).join();
  const atEdge = new Map<string, number[]>();
  for (let h = 0; h < twin.length; h++) if (twin[h] < 0) atEdge.set(ends(h), [...(atEdge.get(ends(h)) ?? []), h]);
  const added: number[] = [];
  const split = new Map<number, { readonly h: number; readonly middle: number }>();
  for (const halfedges of atEdge.values()) {
    const h = halfedges[0];
    const g = halfedges.find((other) => t[other] === t[nextHalfedge(h)]);
    // A triangle is split at one edge a round.
    if (g === undefined || split.has(Math.floor(h / 3)) || split.has(Math.floor(g / 3))) continue;
    const tips = [t[previousHalfedge(h)], t[previousHalfedge(g)]];
    const middle = [0, 1, 2].map((k) => (p[3 * t[h] + k] + p[3 * t[g] + k]) / 2);
    const way = middle.map((c, k) => (p[3 * tips[0] + k] + p[3 * tips[1] + k]) / 2 - c);
    const length = Math.hypot(...way) || 1;
    const m = vertexCount(mesh) + added.length / 3;
    middle.forEach((c, k) => added.push(c + (by * way[k]) / length));
    for (const half of [h, g]) split.set(Math.floor(half / 3), { h: half, middle: m });
  }
  const out: number[] = [];
  for (let f = 0; 3 * f < t.length; f++) {
    const cut = split.get(f);
    if (cut === undefined) out.push(t[3 * f], t[3 * f + 1], t[3 * f + 2]);
    else out.push(t[cut.h], cut.middle, t[previousHalfedge(cut.h)], cut.middle, t[nextHalfedge(cut.h)], t[previousHalfedge(cut.h)]);
  }
  return { positions: inFloat32([...p, ...added]), triangles: Uint32Array.from(out) };
}
