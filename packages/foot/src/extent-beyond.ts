import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Point } from './landmarks.js';

/** The vertices with the least and the greatest y (axis 1) or z (axis 2) among those with x ≥ from; there must be one. */
export function extentBeyond({ positions: p }: Mesh, from: number, axis: 1 | 2): [Point, Point] {
  let low = -1;
  let high = -1;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] < from) continue;
    if (low < 0 || p[i + axis] < p[low + axis]) low = i;
    if (high < 0 || p[i + axis] > p[high + axis]) high = i;
  }
  return [[p[low], p[low + 1], p[low + 2]], [p[high], p[high + 1], p[high + 2]]];
}
