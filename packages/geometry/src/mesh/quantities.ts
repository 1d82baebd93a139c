import type { Mesh } from './mesh.js';
import { triangleCount, vertexCount } from './mesh.js';

/** Normal times twice the area of each triangle, x, y, z; length 3 × triangles. */
export function triangleNormals(mesh: Mesh): Float64Array {
  const out = new Float64Array(mesh.triangles.length);
  for (let i = 0; i < out.length; i += 3) triangleNormal(mesh, i, out, i);
  return out;
}

/** Normal times twice the area of the triangle that starts at place `f` of the triangles, written to `out` from `at` on. */
export function triangleNormal({ positions: p, triangles: t }: Mesh, f: number, out: Float64Array, at = 0): void {
  const a = 3 * t[f];
  const b = 3 * t[f + 1];
  const c = 3 * t[f + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  out[at] = uy * vz - uz * vy;
  out[at + 1] = uz * vx - ux * vz;
  out[at + 2] = ux * vy - uy * vx;
}

/** Surface area in the square of the mesh's unit. */
export function surfaceArea(mesh: Mesh): number {
  const n = triangleNormals(mesh);
  let sum = 0;
  for (let i = 0; i < n.length; i += 3) sum += Math.sqrt(n[i] * n[i] + n[i + 1] * n[i + 1] + n[i + 2] * n[i + 2]);
  return sum / 2;
}

/** Signed volume by the divergence theorem; positive where a closed mesh faces outward. Open meshes: cone to the origin. */
export function signedVolume(mesh: Mesh): number {
  const { positions: p, triangles: t } = mesh;
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const a = 3 * t[i];
    const b = 3 * t[i + 1];
    const c = 3 * t[i + 2];
    sum +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}

/** Unit normal of each vertex, area-weighted; 0 where a vertex has no area around it. Length 3 × vertices. */
export function vertexNormals(mesh: Mesh): Float64Array {
  const faces = triangleNormals(mesh);
  const { triangles } = mesh;
  const out = new Float64Array(mesh.positions.length);
  for (let h = 0; h < triangles.length; h++) {
    const f = h - (h % 3);
    const v = 3 * triangles[h];
    out[v] += faces[f];
    out[v + 1] += faces[f + 1];
    out[v + 2] += faces[f + 2];
  }
  for (let v = 0; v < out.length; v += 3) {
    const length = Math.sqrt(out[v] * out[v] + out[v + 1] * out[v + 1] + out[v + 2] * out[v + 2]);
    if (length === 0) continue;
    out[v] /= length;
    out[v + 1] /= length;
    out[v + 2] /= length;
  }
  return out;
}

/** Vertices − edges + triangles; 2 for a closed surface like a sphere, 0 for a torus, 1 for a disc. Unused vertices do not count. */
export function eulerCharacteristic(mesh: Mesh, twin: Int32Array): number {
  const used = new Uint8Array(vertexCount(mesh));
  let vertices = 0;
  let halves = 0;
  for (let h = 0; h < mesh.triangles.length; h++) {
    const v = mesh.triangles[h];
    if (used[v] === 0) vertices++;
    used[v] = 1;
    halves += twin[h] >= 0 ? 1 : 2;
  }
  return vertices - halves / 2 + triangleCount(mesh);
}

/** Mean length of the edges, each counted once for every triangle it bounds. */
export function meanEdgeLength(mesh: Mesh): number {
  const { positions: p, triangles: t } = mesh;
  let sum = 0;
  for (let h = 0; h < t.length; h++) {
    const a = 3 * t[h];
    const b = 3 * t[h % 3 === 2 ? h - 2 : h + 1];
    const x = p[a] - p[b];
    const y = p[a + 1] - p[b + 1];
    const z = p[a + 2] - p[b + 2];
    sum += Math.sqrt(x * x + y * y + z * z);
  }
  return t.length === 0 ? 0 : sum / t.length;
}

/** The area that belongs to each vertex: a third of each of its triangles'. */
export function vertexAreas(mesh: Mesh): Float64Array {
  const faces = triangleNormals(mesh);
  const areas = new Float64Array(vertexCount(mesh));
  for (let h = 0; h < mesh.triangles.length; h++) {
    const f = h - (h % 3);
    areas[mesh.triangles[h]] += Math.hypot(faces[f], faces[f + 1], faces[f + 2]) / 6;
  }
  return areas;
}
