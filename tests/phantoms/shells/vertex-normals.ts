import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** Unit normals of the vertices, the mean of their triangles' by area; 3 a vertex. */
export function vertexNormals({ positions: p, triangles }: Mesh): Float64Array {
  const out = new Float64Array(p.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    for (const o of [a, b, c]) for (let k = 0; k < 3; k++) out[o + k] += n[k];
  }
  for (let i = 0; i < out.length; i += 3) {
    const l = Math.hypot(out[i], out[i + 1], out[i + 2]) || 1;
    for (let k = 0; k < 3; k++) out[i + k] /= l;
  }
  return out;
}
