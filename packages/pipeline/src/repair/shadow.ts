import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal, triangleCount } from '@cast-to-last/geometry/mesh/mesh';

export const SHADOW_DEFAULTS = {
  /** Cells of the shadow along the mesh's diagonal; there should be many facets to a cell. */
  cells: 64,
} as const;

export interface Facets {
  /** Which triangle each facet is. */
  readonly triangle: Uint32Array;
  /** Unit normals and centroids, 3 × facets. */
  readonly normals: Float64Array;
  readonly centres: Float64Array;
  readonly areas: Float64Array;
}

/** At most `most` triangles, spread evenly over the list. */
export function sampleFacets(mesh: Mesh, most: number): Facets {
  const { positions: p, triangles } = mesh;
  const all = triangleCount(mesh);
  const count = Math.min(all, most);
  const triangle = Uint32Array.from({ length: count }, (_, i) => Math.floor((i * all) / count));
  const normals = new Float64Array(3 * count);
  const centres = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const t = 3 * triangle[i];
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    const scale = length > 0 ? 1 / length : 0;
    areas[i] = length / 2;
    normals[3 * i] = nx * scale;
    normals[3 * i + 1] = ny * scale;
    normals[3 * i + 2] = nz * scale;
    for (let k = 0; k < 3; k++) centres[3 * i + k] = (p[a + k] + p[b + k] + p[c + k]) / 3;
  }
  return { triangle, normals, centres, areas };
}

/**
 * Share of a plane's area that the rest of the mesh, seen along the plane's normal `n`, does not cover; holes in the
 * shadow count as covered. Facets lower than `thickness` (its sign says on which side the rest lies) are the plane's own,
 * those above twice it cast the shadow; `height` is that of each facet.
 */
export function shareOutside(
  mesh: Mesh,
  n: readonly number[],
  { triangle, areas }: Facets,
  height: Float64Array,
  thickness: number,
): number {
  const { positions: p, triangles } = mesh;
  const { cells } = SHADOW_DEFAULTS;
  const up = Math.sign(thickness);
  const least = n.map(Math.abs).indexOf(Math.min(...n.map(Math.abs)));
  const u = [0, 1, 2].map((k) => (k === least ? 1 : 0) - n[least] * n[k]);
  const length = Math.hypot(...u);
  for (let k = 0; k < 3; k++) u[k] /= length;
  const v = [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]];
  const perCell = cells / diagonal(p);
  const side = 2 * cells + 4;
  const place = (axis: readonly number[], at: number): number =>
    (axis[0] * (p[at] - p[0]) + axis[1] * (p[at + 1] - p[1]) + axis[2] * (p[at + 2] - p[2])) * perCell + side / 2;
  const shadow = new Uint8Array(side * side);
  for (let f = 0; f < areas.length; f++) {
    if (up * height[f] <= 2 * Math.abs(thickness)) continue;
    let lowI = side;
    let highI = 0;
    let lowJ = side;
    let highJ = 0;
    for (let k = 3 * triangle[f]; k < 3 * triangle[f] + 3; k++) {
      const i = place(u, 3 * triangles[k]);
      const j = place(v, 3 * triangles[k]);
      if (i < lowI) lowI = i;
      if (i > highI) highI = i;
      if (j < lowJ) lowJ = j;
      if (j > highJ) highJ = j;
    }
    for (let i = Math.floor(lowI); i <= highI; i++) for (let j = Math.floor(lowJ); j <= highJ; j++) shadow[i * side + j] = 1;
  }
  floodFromOutside(shadow, side);
  let outside = 0;
  let all = 0;
  for (let f = 0; f < areas.length; f++) {
    if (Math.abs(height[f]) > Math.abs(thickness)) continue;
    const at = 3 * triangles[3 * triangle[f]];
    all += areas[f];
    if (shadow[Math.floor(place(u, at)) * side + Math.floor(place(v, at))] === 2) outside += areas[f];
  }
  return all > 0 ? outside / all : 0;
}

/** Sets cells that can be reached from the corner without crossing a 1 to 2. */
function floodFromOutside(cells: Uint8Array, side: number): void {
  const stack = [0];
  cells[0] = 2;
  for (let c = stack.pop(); c !== undefined; c = stack.pop()) {
    const column = c % side;
    for (const n of [c - side, c + side, column > 0 ? c - 1 : -1, column < side - 1 ? c + 1 : -1]) {
      if (n < 0 || n >= cells.length || cells[n] !== 0) continue;
      cells[n] = 2;
      stack.push(n);
    }
  }
}
