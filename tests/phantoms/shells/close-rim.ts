import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { next, opposites } from '../surface/halfedges.js';

/** The closed boundary lines of a mesh; each runs so that the missing surface lies on the other side of its edges. */
export function borders({ triangles, positions }: Mesh): number[][] {
  const opposite = opposites(triangles, positions.length / 3);
  const onward = new Map<number, number>();
  for (let h = 0; h < triangles.length; h++) if (opposite[h] < 0) onward.set(triangles[h], triangles[next(h)]);
  const loops: number[][] = [];
  while (onward.size > 0) {
    const loop: number[] = [];
    const start = onward.keys().next().value as number;
    for (let v: number | undefined = start; v !== undefined; ) {
      loop.push(v);
      const to: number | undefined = onward.get(v);
      onward.delete(v);
      v = to === start || to === undefined ? undefined : to;
    }
    loops.push(loop);
  }
  return loops;
}

const lengthsOf = (positions: readonly number[] | Float64Array, loop: readonly number[], closed: boolean): number[] => {
  const at = [0];
  const edges = closed ? loop.length : loop.length - 1;
  for (let i = 0; i < edges; i++) {
    const [a, b] = [3 * loop[i], 3 * loop[(i + 1) % loop.length]];
    at.push(at[i] + Math.hypot(positions[a] - positions[b], positions[a + 1] - positions[b + 1], positions[a + 2] - positions[b + 2]));
  }
  return at;
};

/**
 * Triangles between two lines of vertices that run the same way, so that the edges of `from` are run against its order
 * and those of `to` along theirs. Advances on the line that lags behind, by share of its length.
 */
export function zip(positions: readonly number[] | Float64Array, from: readonly number[], to: readonly number[], closed: boolean): number[] {
  const [a, b] = [lengthsOf(positions, from, closed), lengthsOf(positions, to, closed)];
  const [wholeA, wholeB] = [Math.max(1e-9, a[a.length - 1]), Math.max(1e-9, b[b.length - 1])];
  const out: number[] = [];
  let [i, j] = [0, 0];
  while (i < a.length - 1 || j < b.length - 1) {
    const nextA = i < a.length - 1 ? a[i + 1] / wholeA : Infinity;
    const nextB = j < b.length - 1 ? b[j + 1] / wholeB : Infinity;
    const [p, q] = [from[i % from.length], to[j % to.length]];
    if (nextA <= nextB) out.push(p, q, from[++i % from.length]);
    else out.push(p, q, to[++j % to.length]);
  }
  return out;
}

/** `loop` from the vertex nearest to where `like` starts. */
export function startingLike(positions: Float64Array, loop: readonly number[], like: readonly number[]): number[] {
  const o = 3 * like[0];
  let best = 0;
  let least = Infinity;
  loop.forEach((v, i) => {
    const d = Math.hypot(positions[3 * v] - positions[o], positions[3 * v + 1] - positions[o + 1], positions[3 * v + 2] - positions[o + 2]);
    if (d < least) {
      least = d;
      best = i;
    }
  });
  return [...loop.slice(best), ...loop.slice(0, best)];
}

/**
 * A surface between two closed lines that lie over each other, in rows about `pitch` mm apart: ends on the border `from`
 * and the border `to`, whose own surfaces run against each other (`to` is a border as `borders` gives it). Returns the
 * mesh with the rows added.
 */
export function joinBorders(mesh: Mesh, from: readonly number[], to: readonly number[], pitch: number): Mesh {
  const positions = Array.from(mesh.positions);
  const other = startingLike(mesh.positions, [...to].reverse(), from);
  const gap = from.reduce((sum, v, i) => {
    const w = other[Math.floor((i * other.length) / from.length)];
    return sum + Math.hypot(...[0, 1, 2].map((k) => positions[3 * v + k] - positions[3 * w + k]));
  }, 0) / from.length;
  const rows = Math.max(1, Math.round(gap / pitch));
  const [a, b] = [lengthsOf(positions, from, true), lengthsOf(positions, other, true)];
  const at = (loop: readonly number[], lengths: readonly number[], share: number): number[] => {
    const want = share * lengths[lengths.length - 1];
    let i = 0;
    while (i < lengths.length - 2 && lengths[i + 1] < want) i++;
    const t = (want - lengths[i]) / Math.max(1e-12, lengths[i + 1] - lengths[i]);
    const [p, q] = [3 * loop[i], 3 * loop[(i + 1) % loop.length]];
    return [0, 1, 2].map((k) => positions[p + k] + t * (positions[q + k] - positions[p + k]));
  };
  const triangles = Array.from(mesh.triangles);
  let last: readonly number[] = from;
  for (let row = 1; row < rows; row++) {
    const count = Math.max(8, Math.round((a[a.length - 1] + (row / rows) * (b[b.length - 1] - a[a.length - 1])) / pitch));
    const line = Array.from({ length: count }, (_, i) => {
      const [p, q] = [at(from, a, i / count), at(other, b, i / count)];
      return positions.push(...p.map((c, k) => c + (row / rows) * (q[k] - c))) / 3 - 1;
    });
    triangles.push(...zip(positions, last, line, true));
    last = line;
  }
  triangles.push(...zip(positions, last, other, true));
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
