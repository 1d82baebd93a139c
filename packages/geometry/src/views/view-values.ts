import type { Mesh } from '../mesh/mesh.js';
import { EDGE_TOLERANCE, project } from './view.js';
import type { View } from './view.js';

/** A triangle is the one that a view shows where it lies this near to the view's depth, mm. */
const SAME_DEPTH = 0.01;

/**
 * What values at the vertices of a mesh are at each sample of a view of it, linear within each triangle; NaN beside the
 * mesh, where a triangle has a vertex without a value, and where the view shows something else before the mesh.
 *
 * @param values one a vertex; NaN where there is none
 */
export function viewValues({ axes, columns, rows, cell, origin, depth }: View, { positions, triangles: t }: Mesh, values: Float64Array): Float32Array {
  const p = project(axes, positions);
  const out = new Float32Array(columns * rows).fill(NaN);
  for (let f = 0; f < t.length; f += 3) {
    const value = [values[t[f]], values[t[f + 1]], values[t[f + 2]]];
    if (value.some(Number.isNaN)) continue;
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    const ua = p[a];
    const va = p[a + 1];
    const ub = p[b];
    const vb = p[b + 1];
    const uc = p[c];
    const vc = p[c + 1];
    const area = (ub - ua) * (vc - va) - (uc - ua) * (vb - va);
    if (area === 0) continue;
    const lastColumn = Math.min(columns - 1, Math.floor((Math.max(ua, ub, uc) - origin[0]) / cell));
    const lastRow = Math.min(rows - 1, Math.floor((Math.max(va, vb, vc) - origin[1]) / cell));
    for (let row = Math.max(0, Math.ceil((Math.min(va, vb, vc) - origin[1]) / cell)); row <= lastRow; row++) {
      const v = origin[1] + row * cell;
      for (let column = Math.max(0, Math.ceil((Math.min(ua, ub, uc) - origin[0]) / cell)); column <= lastColumn; column++) {
        const u = origin[0] + column * cell;
        const wb = ((u - ua) * (vc - va) - (uc - ua) * (v - va)) / area;
        const wc = ((ub - ua) * (v - va) - (u - ua) * (vb - va)) / area;
        const wa = 1 - wb - wc;
        if (Math.min(wa, wb, wc) < -EDGE_TOLERANCE) continue;
        const k = row * columns + column;
        if (Math.abs(wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2] - depth[k]) <= SAME_DEPTH) out[k] = wa * value[0] + wb * value[1] + wc * value[2];
      }
    }
  }
  return out;
}
