import type { Mesh } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';

/**
 * The cheapest path along edges from one of the starts to one of the ends (Dijkstra), where an edge costs its length
 * times the mean cost of its ends.
 *
 * @returns vertices from start to end; null where no end is reached
 */
export function cheapestPath(
  mesh: Mesh,
  neighbours: Rows,
  starts: readonly number[],
  ends: ReadonlySet<number>,
  cost: (vertex: number) => number,
  allowed: (vertex: number) => boolean,
): Uint32Array | null {
  const p = mesh.positions;
  const spent = new Map<number, number>();
  const before = new Map<number, number>();
  const done = new Set<number>();
  const heap: { key: number; vertex: number }[] = [];
  for (const v of starts) {
    spent.set(v, 0);
    push(heap, { key: 0, vertex: v });
  }
  while (heap.length > 0) {
    const { key, vertex: v } = pop(heap);
    if (done.has(v)) continue;
    done.add(v);
    if (ends.has(v)) return trace(before, v);
    for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) {
      const w = neighbours.items[i];
      if (done.has(w) || !allowed(w)) continue;
      const length = Math.hypot(p[3 * v] - p[3 * w], p[3 * v + 1] - p[3 * w + 1], p[3 * v + 2] - p[3 * w + 2]);
      const total = key + (length * (cost(v) + cost(w))) / 2;
      if (total >= (spent.get(w) ?? Infinity)) continue;
      spent.set(w, total);
      before.set(w, v);
      push(heap, { key: total, vertex: w });
    }
  }
  return null;
}

function trace(before: ReadonlyMap<number, number>, end: number): Uint32Array {
  const path: number[] = [];
  for (let v: number | undefined = end; v !== undefined; v = before.get(v)) path.push(v);
  return Uint32Array.from(path.reverse());
}

function push(heap: { key: number; vertex: number }[], item: { key: number; vertex: number }): void {
  let i = heap.length;
  heap.push(item);
  while (i > 0) {
    const up = (i - 1) >> 1;
    if (heap[up].key <= item.key) break;
    heap[i] = heap[up];
    i = up;
  }
  heap[i] = item;
}

function pop(heap: { key: number; vertex: number }[]): { key: number; vertex: number } {
  const top = heap[0];
  const item = heap.pop() as { key: number; vertex: number };
  if (heap.length === 0) return top;
  let i = 0;
  for (;;) {
    let child = 2 * i + 1;
    if (child >= heap.length) break;
    if (child + 1 < heap.length && heap[child + 1].key < heap[child].key) child++;
    if (heap[child].key >= item.key) break;
    heap[i] = heap[child];
    i = child;
  }
  heap[i] = item;
  return top;
}
