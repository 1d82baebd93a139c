import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import type { Wrapped } from './girths.js';

/** How far the place that lies farthest from scanned surface, of all that repair made, lies from it, mm along edges; 0 where it made nothing. */
export function madeUpDepth({ mesh, filled }: Pick<Wrapped, 'mesh' | 'filled'>): number {
  const p = mesh.positions;
  const { offsets, items } = rememberedNeighbours(mesh);
  const depth = new Float64Array(filled.length);
  let front: number[] = [];
  const reach = (v: number, w: number): void => {
    const d = depth[v] + Math.hypot(p[3 * v] - p[3 * w], p[3 * v + 1] - p[3 * w + 1], p[3 * v + 2] - p[3 * w + 2]);
    if (d >= depth[w]) return;
    depth[w] = d;
    front.push(w);
  };
  for (let v = 0; v < filled.length; v++) if (filled[v] === 1) depth[v] = Infinity;
  for (let w = filled.indexOf(1); w >= 0; w = filled.indexOf(1, w + 1)) {
    for (let i = offsets[w]; i < offsets[w + 1]; i++) if (filled[items[i]] === 0) reach(items[i], w);
  }
  while (front.length > 0) {
    const from = front;
    front = [];
    for (const v of from) for (let i = offsets[v]; i < offsets[v + 1]; i++) reach(v, items[i]);
  }
  return depth.reduce((most, d) => (Number.isFinite(d) ? Math.max(most, d) : most), 0);
}
