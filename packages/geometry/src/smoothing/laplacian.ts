import type { Mesh } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';

/**
 * The cotangent Laplacian of a part of a mesh (Pinkall & Polthier, Experimental Mathematics 2, 1993). Rows that needles
 * or caps of a scan take part in say nothing about the shape and are marked, so that a solver can leave them out.
 */
export const LAPLACIAN_DEFAULTS = {
  /** Largest cotangent of a sound row: an angle of 3°. Rows with greater ones are not. */
  largestCotangent: 19,
  /** Least vertex area over the median of the part. */
  leastArea: 0.05,
} as const;

/** Rows for the first `count` vertices; the others are their neighbours outside. */
export interface LocalLaplacian {
  /** Mesh vertex of each local one: those given, then the neighbours outside. */
  readonly vertices: Uint32Array;
  /** Row i is the integrated Laplacian Σ w·(x_j − x_i): columns (local, with i itself) and weights. */
  readonly offsets: Uint32Array;
  readonly columns: Uint32Array;
  readonly weights: Float64Array;
  /** A third of the area of the triangles around each given vertex. */
  readonly area: Float64Array;
  /** One byte a given vertex: 0 where it lies on the mesh's boundary, or where a needle or cap touches it; the row then has equal weights. */
  readonly sound: Uint8Array;
}

export function localLaplacian(mesh: Mesh, around: Rows, given: Uint32Array): LocalLaplacian {
  const { positions: p, triangles } = mesh;
  const local = new Map<number, number>();
  for (let i = 0; i < given.length; i++) local.set(given[i], i);
  const vertices: number[] = Array.from(given);
  const localOf = (v: number): number => {
    let i = local.get(v);
    if (i === undefined) {
      i = vertices.length;
      local.set(v, i);
      vertices.push(v);
    }
    return i;
  };
  let steep = false;
  const cotangent = (apex: number, b: number, c: number): number => {
    const ux = p[3 * b] - p[3 * apex], uy = p[3 * b + 1] - p[3 * apex + 1], uz = p[3 * b + 2] - p[3 * apex + 2];
    const vx = p[3 * c] - p[3 * apex], vy = p[3 * c + 1] - p[3 * apex + 1], vz = p[3 * c + 2] - p[3 * apex + 2];
    const dot = ux * vx + uy * vy + uz * vz;
    const cross = Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2);
    const limit = LAPLACIAN_DEFAULTS.largestCotangent;
    if (cross > 0 && Math.abs(dot) <= limit * cross) return dot / cross;
    steep = true;
    return 0;
  };

  const offsets = new Uint32Array(given.length + 1);
  const columns: number[] = [];
  const weights: number[] = [];
  const area = new Float64Array(given.length);
  const sound = new Uint8Array(given.length);
  for (let i = 0; i < given.length; i++) {
    const v = given[i];
    const start = columns.length;
    columns.push(i);
    weights.push(0);
    let edgesOnce = 0;
    steep = false;
    const addEdge = (w: number, value: number): void => {
      const j = localOf(w);
      let e = start + 1;
      while (e < columns.length && columns[e] !== j) e++;
      if (e === columns.length) {
        columns.push(j);
        weights.push(0);
        edgesOnce++;
      } else edgesOnce--;
      weights[e] += value;
      weights[start] -= value;
    };
    for (let r = around.offsets[v]; r < around.offsets[v + 1]; r++) {
      const t = 3 * around.items[r];
      const at = triangles[t] === v ? 0 : triangles[t + 1] === v ? 1 : 2;
      const b = triangles[t + ((at + 1) % 3)];
      const c = triangles[t + ((at + 2) % 3)];
      addEdge(b, cotangent(c, v, b) / 2);
      addEdge(c, cotangent(b, c, v) / 2);
      const ux = p[3 * b] - p[3 * v], uy = p[3 * b + 1] - p[3 * v + 1], uz = p[3 * b + 2] - p[3 * v + 2];
      const wx = p[3 * c] - p[3 * v], wy = p[3 * c + 1] - p[3 * v + 1], wz = p[3 * c + 2] - p[3 * v + 2];
      area[i] += Math.sqrt((uy * wz - uz * wy) ** 2 + (uz * wx - ux * wz) ** 2 + (ux * wy - uy * wx) ** 2) / 6;
    }
    sound[i] = edgesOnce === 0 && !steep ? 1 : 0;
    if (!sound[i]) {
      for (let e = start + 1; e < columns.length; e++) weights[e] = 1;
      weights[start] = start + 1 - columns.length;
    }
    offsets[i + 1] = columns.length;
  }
  const floor = LAPLACIAN_DEFAULTS.leastArea * (area.slice().sort()[given.length >> 1] ?? 0);
  for (let i = 0; i < area.length; i++) area[i] = Math.max(area[i], floor);
  return {
    vertices: Uint32Array.from(vertices),
    offsets,
    columns: Uint32Array.from(columns),
    weights: Float64Array.from(weights),
    area,
    sound,
  };
}
