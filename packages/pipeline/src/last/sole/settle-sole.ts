import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { HeightOver } from './fair-sole.js';

const SETTLE = {
  /** Distances inside the outline between which the sole passes from the foot's own shape into the new one, mm. */
  edge: 2,
  rim: 10,
  /** What lies further than this off the new sole (mm) is none of it; the last part of that fades. */
  far: 16,
  fade: 5,
} as const;

const smooth = (t: number): number => {
  const c = Math.max(0, Math.min(1, t));
  return c * c * (3 - 2 * c);
};

export interface SettledSole {
  readonly mesh: Mesh;
  /** How far a vertex was moved at most, mm. */
  readonly most: number;
}

/**
 * The mesh with its sole put on a new one, up or down; what is no sole stays bit for bit.
 *
 * @param depth of `depthInSole`
 * @param share how much of the way a place goes, 0 to 1
 */
export function settleSole({ positions, triangles }: Mesh, depth: Float64Array, height: HeightOver, share: HeightOver): SettledSole {
  const out = positions.slice();
  let most = 0;
  for (let v = 0; v < depth.length; v++) {
    if (depth[v] <= SETTLE.edge) continue;
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    const part = share(x, y);
    if (part <= 0) continue;
    const off = height(x, y) - z;
    const move = part * smooth((depth[v] - SETTLE.edge) / (SETTLE.rim - SETTLE.edge)) * smooth((SETTLE.far - Math.abs(off)) / SETTLE.fade) * off;
    out[3 * v + 2] = z + move;
    most = Math.max(most, Math.abs(move));
  }
  return { mesh: { positions: out, triangles }, most };
}

/** Root of the mean square of the distances of the sole from a new one where that is taken over whole, mm; 0 where it is nowhere. */
export function offSole({ positions: p }: Mesh, depth: Float64Array, height: HeightOver, share: HeightOver): number {
  let sum = 0;
  let count = 0;
  for (let v = 0; v < depth.length; v++) {
    if (depth[v] < SETTLE.rim || share(p[3 * v], p[3 * v + 1]) < 1) continue;
    const off = height(p[3 * v], p[3 * v + 1]) - p[3 * v + 2];
    if (Math.abs(off) > SETTLE.far - SETTLE.fade) continue;
    sum += off * off;
    count++;
  }
  return count === 0 ? 0 : Math.sqrt(sum / count);
}
