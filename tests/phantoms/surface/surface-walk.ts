import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { next, previous } from './halfedges.js';

/** Neighbours of each vertex as offsets and a flat list; interior edges occur once a direction or twice. */
export interface Neighbours {
  readonly start: Uint32Array;
  readonly list: Uint32Array;
}

export function neighbours(mesh: Mesh): Neighbours {
  const { triangles } = mesh;
  const n = mesh.positions.length / 3;
  const start = new Uint32Array(n + 1);
  for (let h = 0; h < triangles.length; h++) start[triangles[h] + 1] += 2;
  for (let v = 0; v < n; v++) start[v + 1] += start[v];
  const fill = start.slice(0, n);
  const list = new Uint32Array(2 * triangles.length);
  for (let h = 0; h < triangles.length; h++) {
    const v = triangles[h];
    list[fill[v]++] = triangles[next(h)];
    list[fill[v]++] = triangles[previous(h)];
  }
  return { start, list };
}

/** Vertices that can be reached from `from` over edges without leaving the set where `within(v)` holds. */
export function flood(around: Neighbours, from: readonly number[], within: (vertex: number) => boolean): number[] {
  const seen = new Set<number>();
  const reached: number[] = [];
  const stack = from.filter((v) => within(v));
  for (const v of stack) seen.add(v);
  while (stack.length > 0) {
    const v = stack.pop() as number;
    reached.push(v);
    for (let i = around.start[v]; i < around.start[v + 1]; i++) {
      const w = around.list[i];
      if (!seen.has(w) && within(w)) {
        seen.add(w);
        stack.push(w);
      }
    }
  }
  return reached;
}

/** Vertices by cubes of `cell` mm, to find those near a point. */
export class VertexGrid {
  readonly cell: number;
  readonly #buckets = new Map<number, number[]>();
  readonly #positions: Float64Array;

  constructor(positions: Float64Array, cell: number) {
    this.cell = cell;
    this.#positions = positions;
    for (let v = 0; v < positions.length / 3; v++) {
      const key = this.#key(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
      const bucket = this.#buckets.get(key);
      if (bucket) bucket.push(v);
      else this.#buckets.set(key, [v]);
    }
  }

  #key(x: number, y: number, z: number): number {
    const c = this.cell;
    return (Math.floor(x / c) + 512) * 1048576 + (Math.floor(y / c) + 512) * 1024 + Math.floor(z / c) + 512;
  }

  /** Calls `visit` for every vertex within `radius` of the point. */
  near(x: number, y: number, z: number, radius: number, visit: (vertex: number, distance: number) => void): void {
    const c = this.cell;
    const far = Math.ceil(radius / c);
    for (let i = -far; i <= far; i++) {
      for (let j = -far; j <= far; j++) {
        for (let k = -far; k <= far; k++) {
          for (const v of this.#buckets.get(this.#key(x + i * c, y + j * c, z + k * c)) ?? []) {
            const d = Math.hypot(this.#positions[3 * v] - x, this.#positions[3 * v + 1] - y, this.#positions[3 * v + 2] - z);
            if (d <= radius) visit(v, d);
          }
        }
      }
    }
  }
}
