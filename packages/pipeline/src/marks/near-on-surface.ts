import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { InspectionSurface } from './inspection-surface.js';

export interface Near {
  /** Coarse vertices within the reach, the sources first. */
  readonly reached: Uint32Array;
  /** Distance of each from the nearest source, mm; 0 for the sources. */
  readonly distance: Float64Array;
}

/** Coarse vertices within `reach` mm of the sources, measured from the nearest source straight, reached along the surface. */
export function nearOnSurface(surface: InspectionSurface, sources: Uint32Array, reach: number): Near {
  const p = surface.mesh.positions;
  const { offsets, items } = surface.neighbours;
  const origin = new Map<number, number>();
  const distance = new Map<number, number>();
  const queue: number[] = [];
  for (const v of sources) {
    origin.set(v, v);
    distance.set(v, 0);
    queue.push(v);
  }
  for (let head = 0; head < queue.length; head++) {
    const v = queue[head];
    const from = origin.get(v) as number;
    for (let i = offsets[v]; i < offsets[v + 1]; i++) {
      const w = items[i];
      const d = length3(p[3 * w] - p[3 * from], p[3 * w + 1] - p[3 * from + 1], p[3 * w + 2] - p[3 * from + 2]);
      if (d > reach || d >= (distance.get(w) ?? Infinity)) continue;
      distance.set(w, d);
      origin.set(w, from);
      queue.push(w);
    }
  }
  return { reached: Uint32Array.from(distance.keys()), distance: Float64Array.from(distance.values()) };
}
