import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds, triangleCount } from '@cast-to-last/geometry/mesh/mesh';

export const WALLS_DEFAULTS = {
  /** Thickest wall of a plaster shell, mm, and the thinnest that counts as one. */
  thickest: 14,
  thinnest: 1,
  /** A surface is a double wall where this share of its points has another surface behind it within a wall's thickness. */
  share: 0.6,
  /** Points asked, and points of the surface that answer. */
  asked: 600,
  answering: 20_000,
  /** How far beside the line into the wall an answer may lie, over the distance. */
  aside: 0.5,
  /** Cosine between the two surfaces' normals: back to back. */
  backToBack: -0.7,
} as const;

/** Whether most of the surface has a second one close behind it, back to back: a scan of a shell with both its sides. */
export function isDoubleWalled(mesh: Mesh): boolean {
  const d = WALLS_DEFAULTS;
  const answers = sampleFacets(mesh, d.answering);
  const count = answers.length / 6;
  const [x0, y0, z0, x1, y1] = bounds(mesh.positions);
  const cells = [x1 - x0, y1 - y0].map((length) => Math.floor(length / d.thickest) + 3);
  const cellOf = (q: Float64Array): number =>
    (Math.floor((q[2] - z0) / d.thickest + 1) * cells[1] + Math.floor((q[1] - y0) / d.thickest + 1)) * cells[0] +
    Math.floor((q[0] - x0) / d.thickest + 1);
  const rows = new Map<number, Float64Array[]>();
  const facets = Array.from({ length: count }, (_, i) => answers.subarray(6 * i, 6 * i + 6));
  for (const facet of facets) {
    const row = rows.get(cellOf(facet));
    if (row) row.push(facet);
    else rows.set(cellOf(facet), [facet]);
  }
  const steps: number[] = [];
  for (let z = -1; z <= 1; z++) for (let y = -1; y <= 1; y++) for (let x = -1; x <= 1; x++) steps.push((z * cells[1] + y) * cells[0] + x);
  const asked = Math.min(count, d.asked);
  let behind = 0;
  for (let a = 0; a < asked; a++) {
    const q = facets[Math.floor((a * count) / asked)];
    const cell = cellOf(q);
    if (steps.some((step) => rows.get(cell + step)?.some((facet) => isBehind(q, facet)))) behind++;
  }
  return behind >= d.share * asked;
}

/** Centroid and unit normal, 6 numbers each, of triangles spread evenly over the list. */
function sampleFacets(mesh: Mesh, most: number): Float64Array {
  const { positions: p, triangles } = mesh;
  const all = triangleCount(mesh);
  const count = Math.min(all, most);
  const out = new Float64Array(6 * count);
  for (let i = 0; i < count; i++) {
    const t = 3 * Math.floor((i * all) / count);
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n) || 1;
    for (let k = 0; k < 3; k++) {
      out[6 * i + k] = (p[a + k] + p[b + k] + p[c + k]) / 3;
      out[6 * i + 3 + k] = n[k] / length;
    }
  }
  return out;
}

/** Whether facet `b` lies behind facet `a` within a wall's thickness and faces the other way. */
function isBehind(a: Float64Array, b: Float64Array): boolean {
  const d = WALLS_DEFAULTS;
  if (a[3] * b[3] + a[4] * b[4] + a[5] * b[5] > d.backToBack) return false;
  const x = b[0] - a[0];
  const y = b[1] - a[1];
  const z = b[2] - a[2];
  const depth = -(x * a[3] + y * a[4] + z * a[5]);
  if (depth < d.thinnest || depth > d.thickest) return false;
  return Math.hypot(x + depth * a[3], y + depth * a[4], z + depth * a[5]) <= d.aside * depth + d.thinnest;
}
