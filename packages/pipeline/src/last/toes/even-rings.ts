import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';
import { twins, vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';
import type { ToeRings } from './toe-rings.js';

export const EVEN = {
  /** Standard deviation of the blur of the new surface, mm: it takes off the line on which its halves meet. */
  blur: 3,
  /** Most times that folds are sought and spread out. */
  rounds: 6,
  /** Edges from a fold up to which vertices are spread, more with each time, and how often each goes to the middle of its neighbours. */
  reach: 4,
  spreads: 20,
} as const;

/**
 * The rings without what is finer than the fairing's own grid, and without folds, as can come where columns run together at
 * the ends of the line on which the halves meet. The rim stays.
 *
 * @param rim x, y, z of the rim's vertices
 */
export function evenRings({ positions, triangles }: ToeRings, rim: Float64Array): ToeRings {
  const all = new Float64Array(rim.length + positions.length);
  all.set(rim);
  all.set(positions, rim.length);
  const rough: Mesh = { positions: all, triangles };
  const neighbours = vertexNeighbours(rough);
  const even = lowPass(rough, EVEN.blur, twins(rough), neighbours).positions.slice();
  for (let round = 1; round <= EVEN.rounds; round++) {
    const folds = selfCrossings({ positions: even, triangles });
    if (!folds.includes(1)) break;
    spreadOut(even, around(triangles, folds, neighbours, EVEN.reach * round, rim.length / 3), neighbours);
  }
  return { positions: even.slice(rim.length), triangles };
}

/** The vertices of the marked triangles and those within some edges of them, without the first `fixed`. */
function around(triangles: Uint32Array, marked: Uint8Array, neighbours: Rows, reach: number, fixed: number): number[] {
  const found = new Set<number>();
  for (let h = 0; h < triangles.length; h++) if (marked[(h / 3) | 0] === 1) found.add(triangles[h]);
  let front = [...found];
  for (let step = 0; step < reach; step++) {
    const next: number[] = [];
    for (const v of front) {
      for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) {
        const w = neighbours.items[i];
        if (found.has(w)) continue;
        found.add(w);
        next.push(w);
      }
    }
    front = next;
  }
  return [...found].filter((v) => v >= fixed);
}

/** Moves each vertex half-way to the middle of its neighbours, many times, in place. */
function spreadOut(p: Float64Array, vertices: readonly number[], neighbours: Rows): void {
  for (let time = 0; time < EVEN.spreads; time++) {
    for (const v of vertices) {
      const from = neighbours.offsets[v];
      const to = neighbours.offsets[v + 1];
      for (let k = 0; k < 3; k++) {
        let sum = 0;
        for (let i = from; i < to; i++) sum += p[3 * neighbours.items[i] + k];
        p[3 * v + k] += (sum / (to - from) - p[3 * v + k]) / 2;
      }
    }
  }
}
