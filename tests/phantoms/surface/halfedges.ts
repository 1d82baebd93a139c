import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/**
 * For each halfedge h = 3·t + k (from corner k of triangle t to the next corner) the halfedge that runs the other way,
 * or −1 on a boundary. Throws where more than two triangles share an edge.
 */
export function opposites(triangles: Uint32Array, vertices: number): Int32Array {
  const n = triangles.length;
  const opposite = new Int32Array(n).fill(-1);
  const start = new Uint32Array(vertices + 1);
  const low = (h: number): number => Math.min(triangles[h], triangles[next(h)]);
  for (let h = 0; h < n; h++) start[low(h) + 1]++;
  for (let v = 0; v < vertices; v++) start[v + 1] += start[v];
  const fill = start.slice();
  const bucket = new Uint32Array(n);
  for (let h = 0; h < n; h++) bucket[fill[low(h)]++] = h;
  for (let v = 0; v < vertices; v++) {
    for (let i = start[v]; i < start[v + 1]; i++) {
      const h = bucket[i];
      for (let j = i + 1; j < start[v + 1]; j++) {
        const g = bucket[j];
        const same = triangles[h] === triangles[next(g)] && triangles[g] === triangles[next(h)];
        const along = triangles[h] === triangles[g] && triangles[next(h)] === triangles[next(g)];
        if (along || (same && (opposite[h] >= 0 || opposite[g] >= 0))) throw new Error('the mesh is not manifold');
        if (same) {
          opposite[h] = g;
          opposite[g] = h;
        }
      }
    }
  }
  return opposite;
}

/** Whether no edge has more than two triangles, or two that run the same way. */
export function isManifold({ triangles, positions }: Mesh): boolean {
  try {
    opposites(triangles, positions.length / 3);
    return true;
  } catch {
    return false;
  }
}

export const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
export const previous = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);

/** How many closed lines the boundary of a manifold mesh is made of. */
export function boundaryLoops({ triangles, positions }: Mesh): number {
  const onward = new Map<number, number>();
  opposites(triangles, positions.length / 3).forEach((g, h) => {
    if (g < 0) onward.set(triangles[h], triangles[next(h)]);
  });
  let loops = 0;
  while (onward.size > 0) {
    loops++;
    let v = onward.keys().next().value as number;
    for (let to = onward.get(v); to !== undefined; to = onward.get(v)) {
      onward.delete(v);
      v = to;
    }
  }
  return loops;
}

/** Handles of a connected manifold mesh: (2 − boundary loops − Euler characteristic) / 2. */
export function handles(mesh: Mesh): number {
  const { triangles, positions } = mesh;
  const opposite = opposites(triangles, positions.length / 3);
  const used = new Uint8Array(positions.length / 3);
  let border = 0;
  for (let h = 0; h < triangles.length; h++) {
    used[triangles[h]] = 1;
    if (opposite[h] < 0) border++;
  }
  const vertices = used.reduce((n, u) => n + u, 0);
  const edges = (triangles.length + border) / 2;
  return (2 - boundaryLoops(mesh) - (vertices - edges + triangles.length / 3)) / 2;
}
