import type { Mesh } from '@cast-to-last/geometry/mesh';
import { diagonal, triangleCount } from '@cast-to-last/geometry/mesh';
import { triangleNormals } from '@cast-to-last/geometry/quantities';

/**
 * Finds a table that hangs together with the cast: a plane that holds a good part of the surface, with all the rest on one
 * side of it, and that reaches out beyond the shadow of the rest. A flattened sole or a flat top lies inside that shadow.
 */
export const TABLE_DEFAULTS = {
  /** Least share of the area in the plane. */
  leastShare: 0.08,
  /** Triangles count for the plane within this angle and this distance over the diagonal. */
  angleDeg: 15,
  thickness: 0.004,
  /** Least share of the rest on one side. */
  oneSided: 0.97,
  /** Least share of the plane's area outside the shadow of the rest. */
  outside: 0.5,
  /** Cells of the shadow along the diagonal. */
  cells: 128,
  /** Height over the diagonal up to which the foot of the cast is cut away with the table. */
  fillet: 0.005,
} as const;

interface Plane {
  readonly normal: readonly number[];
  readonly offset: number;
  readonly share: number;
}

/** One byte a triangle: 1 where it belongs to the cast; null where no table hangs on it. */
export function withoutTable(mesh: Mesh): Uint8Array | null {
  const d = TABLE_DEFAULTS;
  const size = diagonal(mesh.positions);
  const { normals, centres, areas } = facets(mesh);
  const total = areas.reduce((sum, a) => sum + a, 0);
  for (const direction of commonDirections(normals, areas, total)) {
    const plane = fullestPlane(direction, normals, centres, areas, total, size);
    if (plane.share < d.leastShare) continue;
    const height = heights(plane, centres);
    let above = 0;
    let below = 0;
    for (let t = 0; t < areas.length; t++) {
      if (height[t] > 2 * d.thickness * size) above += areas[t];
      else if (height[t] < -2 * d.thickness * size) below += areas[t];
    }
    if (Math.max(above, below) < d.oneSided * (above + below)) continue;
    const up = above >= below ? 1 : -1;
    if (shareOutside(mesh, plane, height, up, areas, size) < d.outside) continue;
    return height.reduce((keep, h, t) => {
      keep[t] = up * h > d.fillet * size ? 1 : 0;
      return keep;
    }, new Uint8Array(areas.length));
  }
  return null;
}

/** Unit normals, centroids (3 × triangles) and areas. */
function facets(mesh: Mesh): { normals: Float64Array; centres: Float64Array; areas: Float64Array } {
  const { positions: p, triangles } = mesh;
  const normals = triangleNormals(mesh);
  const centres = new Float64Array(normals.length);
  const areas = new Float64Array(triangleCount(mesh));
  for (let t = 0; t < areas.length; t++) {
    const i = 3 * t;
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]];
    const length = Math.sqrt(normals[i] ** 2 + normals[i + 1] ** 2 + normals[i + 2] ** 2);
    areas[t] = length / 2;
    for (let k = 0; k < 3; k++) {
      centres[i + k] = (p[a + k] + p[b + k] + p[c + k]) / 3;
      if (length > 0) normals[i + k] /= length;
    }
  }
  return { normals, centres, areas };
}

/** The directions, opposite ones as one, that most area faces; a cube of 3 × 8 × 8 bins. */
function commonDirections(normals: Float64Array, areas: Float64Array, total: number): number[][] {
  const cells = 8;
  const sums = new Float64Array(4 * 3 * cells * cells);
  for (let t = 0; t < areas.length; t++) {
    const n = [normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]];
    const [x, y, z] = n.map(Math.abs);
    const axis = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
    if (n[axis] === 0) continue;
    const [u, v] = [1, 2].map((k) => Math.min(cells - 1, Math.floor(((n[(axis + k) % 3] / n[axis] + 1) / 2) * cells)));
    const bin = 4 * ((axis * cells + u) * cells + v);
    const sign = n[axis] > 0 ? areas[t] : -areas[t];
    for (let k = 0; k < 3; k++) sums[bin + k] += sign * n[k];
    sums[bin + 3] += areas[t];
  }
  const bins = Array.from({ length: 3 * cells * cells }, (_, b) => 4 * b);
  bins.sort((a, b) => sums[b + 3] - sums[a + 3] || a - b);
  return bins
    .slice(0, 4)
    .filter((b) => sums[b + 3] >= TABLE_DEFAULTS.leastShare * 0.5 * total)
    .map((b) => {
      const length = Math.hypot(sums[b], sums[b + 1], sums[b + 2]);
      return [sums[b] / length, sums[b + 1] / length, sums[b + 2] / length];
    });
}

/** The plane across the direction that holds the most area, its normal refined on the triangles in it. */
function fullestPlane(
  direction: readonly number[],
  normals: Float64Array,
  centres: Float64Array,
  areas: Float64Array,
  total: number,
  size: number,
): Plane {
  const d = TABLE_DEFAULTS;
  const least = Math.cos((d.angleDeg * Math.PI) / 180);
  let plane: Plane = { normal: direction, offset: 0, share: 0 };
  for (let round = 0; round < 3; round++) {
    const n = plane.normal;
    const width = (round === 0 ? 4 : 1) * d.thickness * size;
    const height = heights({ ...plane, offset: 0 }, centres);
    const low = height.reduce((m, h) => Math.min(m, h), Infinity);
    const high = height.reduce((m, h) => Math.max(m, h), -Infinity);
    const bins = new Float64Array(Math.floor((high - low) / width) + 2);
    const facing = (t: number): number => n[0] * normals[3 * t] + n[1] * normals[3 * t + 1] + n[2] * normals[3 * t + 2];
    for (let t = 0; t < areas.length; t++) if (Math.abs(facing(t)) > least) bins[Math.floor((height[t] - low) / width)] += areas[t];
    let best = 0;
    for (let b = 0; b + 1 < bins.length; b++) if (bins[b] + bins[b + 1] > bins[best] + bins[best + 1]) best = b;
    const middle = low + (best + 1) * width;
    const sum = [0, 0, 0];
    let area = 0;
    let moment = 0;
    for (let t = 0; t < areas.length; t++) {
      const f = facing(t);
      if (Math.abs(f) <= least || Math.abs(height[t] - middle) > width) continue;
      for (let k = 0; k < 3; k++) sum[k] += Math.sign(f) * areas[t] * normals[3 * t + k];
      area += areas[t];
      moment += areas[t] * height[t];
    }
    const length = Math.hypot(...sum);
    if (length === 0) return { normal: n, offset: 0, share: 0 };
    plane = { normal: n, offset: moment / area, share: area / total };
    if (round < 2) plane = { ...plane, normal: sum.map((c) => c / length) };
  }
  return plane;
}

function heights(plane: Plane, centres: Float64Array): Float64Array {
  const [x, y, z] = plane.normal;
  const out = new Float64Array(centres.length / 3);
  for (let t = 0; t < out.length; t++) out[t] = x * centres[3 * t] + y * centres[3 * t + 1] + z * centres[3 * t + 2] - plane.offset;
  return out;
}

/** Share of the plane's area that the rest, seen along the normal, does not cover; holes in the shadow count as covered. */
function shareOutside(mesh: Mesh, plane: Plane, height: Float64Array, up: number, areas: Float64Array, size: number): number {
  const { positions: p, triangles } = mesh;
  const d = TABLE_DEFAULTS;
  const n = plane.normal;
  const least = n.map(Math.abs).indexOf(Math.min(...n.map(Math.abs)));
  const u = [0, 1, 2].map((k) => (k === least ? 1 : 0) - n[least] * n[k]);
  const length = Math.hypot(...u);
  for (let k = 0; k < 3; k++) u[k] /= length;
  const v = [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]];
  const cell = size / d.cells;
  const side = 2 * d.cells + 4;
  const middle = side / 2;
  const place = (axis: readonly number[], at: number): number =>
    (axis[0] * (p[at] - p[0]) + axis[1] * (p[at + 1] - p[1]) + axis[2] * (p[at + 2] - p[2])) / cell + middle;
  const shadow = new Uint8Array(side * side);
  for (let t = 0; t < areas.length; t++) {
    if (up * height[t] <= 2 * d.thickness * size) continue;
    const corners = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
    const [a, b] = [corners.map((at) => place(u, at)), corners.map((at) => place(v, at))];
    for (let i = Math.floor(Math.min(...a)); i <= Math.max(...a); i++) {
      for (let j = Math.floor(Math.min(...b)); j <= Math.max(...b); j++) shadow[i * side + j] = 1;
    }
  }
  floodFromOutside(shadow, side);
  let outside = 0;
  let all = 0;
  for (let t = 0; t < areas.length; t++) {
    if (Math.abs(height[t]) > d.thickness * size) continue;
    const at = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
    const i = Math.floor((place(u, at[0]) + place(u, at[1]) + place(u, at[2])) / 3);
    const j = Math.floor((place(v, at[0]) + place(v, at[1]) + place(v, at[2])) / 3);
    all += areas[t];
    if (shadow[i * side + j] === 2) outside += areas[t];
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
