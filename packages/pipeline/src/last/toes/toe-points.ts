import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { smoothStep } from '../ease/smooth-step.js';
import type { ToeLine } from './toe-frame.js';
import { ahead } from './toe-frame.js';

/** From how far behind the start points are taken, mm, so that the start itself lies well inside the hull. */
export const BEHIND = 5;

/** Thickness of the slices whose outlines hold the corners of the hull, mm. */
const SLICE = 2;

/**
 * The points ahead of `start`, and a little behind, among which all corners of their convex hull lie, to a few hundredths of a millimetre: the
 * corners of the outline of every slice across each axis.
 */
export function hullPoints({ positions: p }: Mesh, start: ToeLine): Float64Array {
  const inside: number[] = [];
  for (let i = 0; i < p.length; i += 3) if (ahead(start, p[i], p[i + 1]) >= -BEHIND) inside.push(i);
  const kept = new Uint8Array(p.length / 3);
  for (let axis = 0; axis < 3; axis++) {
    const u = (axis + 1) % 3;
    const v = (axis + 2) % 3;
    const order = inside.slice().sort((a, b) => Math.floor(p[a + axis] / SLICE) - Math.floor(p[b + axis] / SLICE) || p[a + u] - p[b + u] || p[a + v] - p[b + v]);
    for (let from = 0, to = 0; from < order.length; from = to) {
      const slice = Math.floor(p[order[from] + axis] / SLICE);
      for (to = from + 1; to < order.length && Math.floor(p[order[to] + axis] / SLICE) === slice; ) to++;
      keepOutline(p, order, from, to, [u, v], kept);
    }
  }
  const out: number[] = [];
  for (const i of inside) if (kept[i / 3] === 1) out.push(p[i], p[i + 1], p[i + 2]);
  return Float64Array.from(out);
}

/** Marks the corners of the hull of points in order of u (Andrew's monotone chain, both halves). */
function keepOutline(p: Float64Array, order: readonly number[], from: number, to: number, [u, v]: readonly [number, number], kept: Uint8Array): void {
  for (const turn of [1, -1]) {
    const chain: number[] = [];
    for (let k = from; k < to; k++) {
      const i = order[k];
      while (chain.length > 1) {
        const a = chain[chain.length - 2];
        const b = chain[chain.length - 1];
        if (turn * ((p[b + u] - p[a + u]) * (p[i + v] - p[a + v]) - (p[b + v] - p[a + v]) * (p[i + u] - p[a + u])) > 0) break;
        chain.pop();
      }
      chain.push(i);
    }
    for (const i of chain) kept[i / 3] = 1;
  }
}

/** How much of the allowance a place gets, 0 at the start and 1 from `full` mm ahead of it. */
export const shareAhead = (start: ToeLine, full: number, x: number, y: number): number => smoothStep(ahead(start, x, y) / full);

/** The points where the allowance puts them. */
export function movedAhead(points: Float64Array, start: ToeLine, full: number, allowance: number): Float64Array {
  const out = points.slice();
  for (let i = 0; i < out.length; i += 3) out[i] += allowance * shareAhead(start, full, out[i], out[i + 1]);
  return out;
}

/** The points, and once more moved ahead by the allowance: what is added is what the toes pass over on their way. */
export function withAllowance(points: Float64Array, start: ToeLine, full: number, allowance: number): Float64Array {
  if (allowance === 0) return points.slice();
  const out = new Float64Array(2 * points.length);
  out.set(points);
  out.set(movedAhead(points, start, full, allowance), points.length);
  return out;
}
