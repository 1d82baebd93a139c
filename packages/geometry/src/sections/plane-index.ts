import type { Mesh } from '../mesh/mesh.js';
import { triangleCount } from '../mesh/mesh.js';

/** Triangles in boxes, so that a plane asks only the boxes that it passes. */
export interface PlaneIndex {
  /** The triangles of box b are triangles[offsets[b]] … triangles[offsets[b + 1] − 1]. */
  readonly offsets: Uint32Array;
  readonly triangles: Uint32Array;
  /** Middle and half extents of each box, x, y, z. */
  readonly centres: Float64Array;
  readonly halves: Float64Array;
  /** For each triangle the last round in which a query passed it. */
  readonly visited: Uint32Array;
  round: number;
}

/** Triangles that a box holds on average. */
const PER_BOX = 64;

/** @param box bounds of the mesh */
export function planeIndex(mesh: Mesh, box: Float64Array): PlaneIndex {
  const { positions: p, triangles: t } = mesh;
  const count = triangleCount(mesh);
  const extent = [box[3] - box[0], box[4] - box[1], box[5] - box[2]].map((e) => Math.max(e, 1e-12));
  // A surface passes about (boxes)^⅔ of the boxes of its bounds, so that many are made per side.
  const perSide = Math.max(1, Math.min(64, Math.ceil(Math.sqrt(count / PER_BOX / 4))));
  const longest = Math.max(...extent);
  const cell = longest / perSide;
  const nx = Math.floor(extent[0] / cell) + 1;
  const ny = Math.floor(extent[1] / cell) + 1;
  const nz = Math.floor(extent[2] / cell) + 1;
  const boxOf = new Uint32Array(count);
  const sizes = new Uint32Array(nx * ny * nz + 1);
  for (let f = 0; f < count; f++) {
    const a = 3 * t[3 * f];
    const b = 3 * t[3 * f + 1];
    const c = 3 * t[3 * f + 2];
    const x = Math.min(nx - 1, Math.floor(((p[a] + p[b] + p[c]) / 3 - box[0]) / cell));
    const y = Math.min(ny - 1, Math.floor(((p[a + 1] + p[b + 1] + p[c + 1]) / 3 - box[1]) / cell));
    const z = Math.min(nz - 1, Math.floor(((p[a + 2] + p[b + 2] + p[c + 2]) / 3 - box[2]) / cell));
    boxOf[f] = (z * ny + y) * nx + x;
    sizes[boxOf[f] + 1]++;
  }
  const used: number[] = [];
  for (let b = 0; b + 1 < sizes.length; b++) if (sizes[b + 1] > 0) used.push(b);
  const offsets = new Uint32Array(used.length + 1);
  const rank = new Uint32Array(sizes.length);
  used.forEach((b, i) => {
    rank[b] = i;
    offsets[i + 1] = offsets[i] + sizes[b + 1];
  });
  const triangles = new Uint32Array(count);
  const cursor = offsets.slice();
  const low = new Float64Array(3 * used.length).fill(Infinity);
  const high = new Float64Array(3 * used.length).fill(-Infinity);
  for (let f = 0; f < count; f++) {
    const b = rank[boxOf[f]];
    triangles[cursor[b]++] = f;
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const i = 3 * t[h];
      const j = 3 * b;
      if (p[i] < low[j]) low[j] = p[i];
      if (p[i] > high[j]) high[j] = p[i];
      if (p[i + 1] < low[j + 1]) low[j + 1] = p[i + 1];
      if (p[i + 1] > high[j + 1]) high[j + 1] = p[i + 1];
      if (p[i + 2] < low[j + 2]) low[j + 2] = p[i + 2];
      if (p[i + 2] > high[j + 2]) high[j + 2] = p[i + 2];
    }
  }
  return {
    offsets,
    triangles,
    centres: low.map((l, i) => (l + high[i]) / 2),
    halves: low.map((l, i) => (high[i] - l) / 2),
    visited: new Uint32Array(count),
    round: 0,
  };
}
