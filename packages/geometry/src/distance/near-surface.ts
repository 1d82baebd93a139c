import type { Mesh } from '../mesh/mesh.js';
import { bounds } from '../mesh/mesh.js';

/**
 * Which of a few points lie within a short reach of a surface. The points go into a hash grid and the triangles stream
 * past it: linear in the number of triangles, with no tree to build.
 *
 * @param points x, y, z of each point
 * @param reach mesh unit; short against the mesh
 * @returns one byte a point: 1 where the surface is within reach
 */
export function nearSurface(points: Float64Array, mesh: Mesh, reach: number): Uint8Array {
  const { positions: p, triangles } = mesh;
  const count = points.length / 3;
  const near = new Uint8Array(count);
  const box = bounds(points);
  const cell = Math.max(4 * reach, Math.max(box[3] - box[0], box[4] - box[1], box[5] - box[2]) / 256);
  const size = [0, 1, 2].map((k) => Math.floor((box[k + 3] - box[k]) / cell) + 1);
  const first = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    const [x, y, z] = [0, 1, 2].map((k) => Math.floor((points[3 * i + k] - box[k]) / cell));
    const key = (x * size[1] + y) * size[2] + z;
    const row = first.get(key);
    if (row) row.push(i);
    else first.set(key, [i]);
  }
  const low = [0, 0, 0];
  const high = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    // Most triangles are far away, and known to be by one axis.
    let k = 0;
    for (; k < 3; k++) {
      const least = Math.min(p[a + k], p[b + k], p[c + k]) - reach;
      const most = Math.max(p[a + k], p[b + k], p[c + k]) + reach;
      if (most < box[k] || least > box[k + 3]) break;
      low[k] = Math.max(0, Math.floor((least - box[k]) / cell));
      high[k] = Math.min(size[k] - 1, Math.floor((most - box[k]) / cell));
    }
    if (k < 3) continue;
    for (let x = low[0]; x <= high[0]; x++) {
      for (let y = low[1]; y <= high[1]; y++) {
        for (let z = low[2]; z <= high[2]; z++) {
          const row = first.get((x * size[1] + y) * size[2] + z);
          if (!row) continue;
          for (const i of row) {
            if (!near[i] && squaredDistance(points, 3 * i, p, a, b, c) <= reach * reach) near[i] = 1;
          }
        }
      }
    }
  }
  return near;
}

/** Squared distance from a point to a triangle (C. Ericson, Real-Time Collision Detection, 2005, 5.1.5). */
function squaredDistance(q: Float64Array, i: number, p: Float64Array, a: number, b: number, c: number): number {
  const abx = p[b] - p[a];
  const aby = p[b + 1] - p[a + 1];
  const abz = p[b + 2] - p[a + 2];
  const acx = p[c] - p[a];
  const acy = p[c + 1] - p[a + 1];
  const acz = p[c + 2] - p[a + 2];
  const apx = q[i] - p[a];
  const apy = q[i + 1] - p[a + 1];
  const apz = q[i + 2] - p[a + 2];
  /** From the point s along ab and t along ac. */
  const off = (s: number, t: number): number => {
    const x = apx - s * abx - t * acx;
    const y = apy - s * aby - t * acy;
    const z = apz - s * abz - t * acz;
    return x * x + y * y + z * z;
  };
  const d1 = abx * apx + aby * apy + abz * apz;
  const d2 = acx * apx + acy * apy + acz * apz;
  if (d1 <= 0 && d2 <= 0) return off(0, 0);
  const bpx = q[i] - p[b];
  const bpy = q[i + 1] - p[b + 1];
  const bpz = q[i + 2] - p[b + 2];
  const d3 = abx * bpx + aby * bpy + abz * bpz;
  const d4 = acx * bpx + acy * bpy + acz * bpz;
  if (d3 >= 0 && d4 <= d3) return off(1, 0);
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return off(d1 / (d1 - d3), 0);
  const cpx = q[i] - p[c];
  const cpy = q[i + 1] - p[c + 1];
  const cpz = q[i + 2] - p[c + 2];
  const d5 = abx * cpx + aby * cpy + abz * cpz;
  const d6 = acx * cpx + acy * cpy + acz * cpz;
  if (d6 >= 0 && d5 <= d6) return off(0, 1);
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return off(0, d2 / (d2 - d6));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const s = (d4 - d3) / (d4 - d3 + (d5 - d6));
    return off(1 - s, s);
  }
  const sum = va + vb + vc;
  return off(vb / sum, vc / sum);
}
