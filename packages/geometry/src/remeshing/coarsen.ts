import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';
import { vertexNeighbours } from '../mesh/topology.js';

export interface Coarsened {
  readonly mesh: Mesh;
  /** For each vertex of the fine mesh, the coarse vertex whose cell it lies in. */
  readonly cellOf: Uint32Array;
}

/**
 * A coarse triangulation with vertices about `spacing` apart: seeds no nearer to each other than that along the
 * surface, each fine vertex in the cell of its nearest seed, a coarse triangle where three cells meet (the dual of the
 * cells). A coarse vertex lies at the mean of its cell, which also averages scan noise. A mesh that is coarser than
 * `spacing` comes back with the same vertices.
 *
 * @param spacing in the mesh's unit
 */
export function coarsen(mesh: Mesh, spacing: number, neighbours: Rows = vertexNeighbours(mesh)): Coarsened {
  const { cellOf, seeds } = cells(mesh, spacing, neighbours);
  return { mesh: { positions: cellMeans(mesh.positions, cellOf, seeds), triangles: dual(mesh, cellOf, seeds) }, cellOf };
}

/** Three numbers for each coarse vertex: the means of those of its cell. */
export function cellMeans(values: Float64Array, cellOf: Uint32Array, count: number): Float64Array {
  const means = new Float64Array(3 * count);
  const sizes = new Uint32Array(count);
  for (let v = 0; v < cellOf.length; v++) {
    const c = cellOf[v];
    sizes[c]++;
    for (let k = 0; k < 3; k++) means[3 * c + k] += values[3 * v + k];
  }
  for (let c = 0; c < count; c++) for (let k = 0; k < 3; k++) means[3 * c + k] /= sizes[c];
  return means;
}

/** One byte for each coarse vertex: 1 where any vertex of its cell has 1. */
export function cellsWith(flags: Uint8Array, cellOf: Uint32Array, count: number): Uint8Array {
  const out = new Uint8Array(count);
  for (let v = 0; v < cellOf.length; v++) if (flags[v] === 1) out[cellOf[v]] = 1;
  return out;
}

/** Nearest-seed cells by a wave from each new seed, which takes over the vertices that it reaches by a shorter way. */
function cells(mesh: Mesh, spacing: number, neighbours: Rows): { cellOf: Uint32Array; seeds: number } {
  const p = mesh.positions;
  const count = vertexCount(mesh);
  const cellOf = new Uint32Array(count);
  const distance = new Float64Array(count).fill(Infinity);
  let queue = new Uint32Array(1024);
  let seeds = 0;
  for (let seed = 0; seed < count; seed++) {
    if (distance[seed] < spacing) continue;
    distance[seed] = 0;
    cellOf[seed] = seeds;
    queue[0] = seed;
    let tail = 1;
    for (let head = 0; head < tail; head++) {
      const v = queue[head];
      const own = distance[v];
      const x = p[3 * v];
      const y = p[3 * v + 1];
      const z = p[3 * v + 2];
      for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) {
        const w = neighbours.items[i];
        // Most neighbours are nearer to a seed already, which the way there need not be known for.
        if (own >= distance[w]) continue;
        const dx = p[3 * w] - x;
        const dy = p[3 * w + 1] - y;
        const dz = p[3 * w + 2] - z;
        const reach = own + Math.sqrt(dx * dx + dy * dy + dz * dz);
        if (reach >= distance[w] || reach >= 2 * spacing) continue;
        distance[w] = reach;
        cellOf[w] = seeds;
        if (tail === queue.length) {
          const longer = new Uint32Array(2 * tail);
          longer.set(queue);
          queue = longer;
        }
        queue[tail++] = w;
      }
    }
    seeds++;
  }
  return { cellOf, seeds };
}

/** One coarse triangle for each trio of cells that meet in a fine triangle. */
function dual(mesh: Mesh, cellOf: Uint32Array, seeds: number): Uint32Array {
  const t = mesh.triangles;
  const first = new Int32Array(seeds).fill(-1);
  const next: number[] = [];
  const out: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    let a = cellOf[t[i]];
    let b = cellOf[t[i + 1]];
    let c = cellOf[t[i + 2]];
    if (a === b || b === c || c === a) continue;
    // Turned so that the lowest index leads, the same triangle is found again whichever corner it starts at.
    if (b < a && b < c) [a, b, c] = [b, c, a];
    else if (c < a && c < b) [a, b, c] = [c, a, b];
    let known = first[a];
    while (known >= 0 && !(out[3 * known + 1] === b && out[3 * known + 2] === c)) known = next[known];
    if (known >= 0) continue;
    next.push(first[a]);
    first[a] = out.length / 3;
    out.push(a, b, c);
  }
  return Uint32Array.from(out);
}
