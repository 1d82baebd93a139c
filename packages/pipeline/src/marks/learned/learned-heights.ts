import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { ExponentialMap } from '@cast-to-last/geometry/distance/exponential-map';
import type { InspectionSurface } from '../inspection-surface.js';
import type { MarkNetwork } from './mark-network.js';
import { markNetwork } from './mark-network.js';
import { patchGrid } from './patch-grid.js';
import { PICTURE } from './picture.js';

const HALF = ((PICTURE.size - 1) / 2) * PICTURE.step;

/** How far along edges the surface is laid flat, so that the corners of the picture are reached, mm. */
export const REACH = 50;

/** A vertex is looked at unless the places looked at before say this much of it: one 21 mm away on the flat does. */
const ENOUGH = 0.5;

/** What a picture says of a place counts by its distance from the middle: fully here, not at all there, mm. */
const SURE = 12;
const NOT_SURE = 30;

/** What a learned network says of how far marks have moved each vertex of an inspection surface along its normal, mm; 0 where it cannot look. */
export function learnedHeights(surface: InspectionSurface, network: MarkNetwork = markNetwork()): Float32Array {
  const { mesh, neighbours, normals, unsure } = surface;
  const map = new ExponentialMap(mesh, neighbours, normals);
  const sums = new Float32Array(unsure.length);
  const weights = new Float32Array(unsure.length);
  for (let middle = 0; middle < unsure.length; middle++) {
    if (unsure[middle] === 1 || weights[middle] >= ENOUGH) continue;
    const { vertices, flat } = map.around(middle, REACH);
    const heights = network.heights(patchGrid(mesh.positions, normals, vertices, flat));
    for (let i = 0; i < vertices.length; i++) {
      const away = length2(flat[2 * i], flat[2 * i + 1]);
      if (away >= NOT_SURE) continue;
      const weight = Math.min(1, (NOT_SURE - away) / (NOT_SURE - SURE));
      sums[vertices[i]] += weight * between(heights, flat[2 * i], flat[2 * i + 1]);
      weights[vertices[i]] += weight;
    }
  }
  return sums.map((sum, v) => (weights[v] === 0 ? 0 : sum / weights[v]));
}

/** Value of a picture between its cells. */
function between(values: Float32Array, u: number, v: number): number {
  const { size, step } = PICTURE;
  const x = Math.min(size - 1.001, Math.max(0, (u + HALF) / step));
  const y = Math.min(size - 1.001, Math.max(0, (v + HALF) / step));
  const c = Math.floor(x);
  const r = Math.floor(y);
  const s = x - c;
  const t = y - r;
  const at = r * size + c;
  return (1 - t) * ((1 - s) * values[at] + s * values[at + 1]) + t * ((1 - s) * values[at + size] + s * values[at + size + 1]);
}
