import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal, triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { Facets } from './shadow.js';
import { sampleFacets, shareOutside } from './shadow.js';

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
  /** Triangles looked at, spread over the mesh. */
  samples: 12_000,
  /** Height over the diagonal up to which the foot of the cast is cut away with the table. */
  fillet: 0.005,
  /** Up to this height over the diagonal, what faces the table's way within the angle is cut away too. */
  flare: 0.03,
  flareAngleDeg: 60,
} as const;

interface Plane {
  readonly normal: readonly number[];
  readonly offset: number;
  readonly share: number;
}

/** One byte a triangle: 1 where it belongs to the cast; null where no table hangs on it. */
export function withoutTable(mesh: Mesh): Uint8Array | null {
  const d = TABLE_DEFAULTS;
  const facets = sampleFacets(mesh, d.samples);
  const { areas } = facets;
  const size = diagonal(mesh.positions);
  const total = areas.reduce((sum, a) => sum + a, 0);
  for (const direction of commonDirections(facets, total)) {
    const plane = fullestPlane(direction, facets, total, size);
    if (plane.share < d.leastShare) continue;
    const height = heights(plane, facets.centres);
    let above = 0;
    let below = 0;
    for (let t = 0; t < areas.length; t++) {
      if (height[t] > 2 * d.thickness * size) above += areas[t];
      else if (height[t] < -2 * d.thickness * size) below += areas[t];
    }
    if (Math.max(above, below) < d.oneSided * (above + below)) continue;
    const up = above >= below ? 1 : -1;
    if (shareOutside(mesh, plane.normal, facets, height, up * d.thickness * size) < d.outside) continue;
    return abovePlane(mesh, plane, facets, height, up, size);
  }
  return null;
}

/** One byte a triangle: 1 above the table and above the flare with which the cast's wall runs out into it. */
function abovePlane(mesh: Mesh, plane: Plane, facets: Facets, height: Float64Array, up: number, size: number): Uint8Array {
  const d = TABLE_DEFAULTS;
  const n = plane.normal;
  let facing = 0;
  for (let f = 0; f < height.length; f++) {
    if (Math.abs(height[f]) > d.thickness * size) continue;
    facing += facets.areas[f] * (n[0] * facets.normals[3 * f] + n[1] * facets.normals[3 * f + 1] + n[2] * facets.normals[3 * f + 2]);
  }
  const side = Math.sign(facing) || 1;
  const normals = triangleNormals(mesh);
  const steep = Math.cos((d.flareAngleDeg * Math.PI) / 180);
  const keep = new Uint8Array(triangleCount(mesh));
  for (let t = 0; t < keep.length; t++) {
    const above = up * heightOf(plane, mesh, t);
    if (above <= d.fillet * size) continue;
    const x = normals[3 * t];
    const y = normals[3 * t + 1];
    const z = normals[3 * t + 2];
    const along = side * (n[0] * x + n[1] * y + n[2] * z);
    keep[t] = above <= d.flare * size && along > steep * Math.sqrt(x * x + y * y + z * z) ? 0 : 1;
  }
  return keep;
}

/** Height of a triangle's centroid above the plane. */
function heightOf(plane: Plane, { positions: p, triangles }: Mesh, t: number): number {
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  const n = plane.normal;
  let sum = 0;
  for (let k = 0; k < 3; k++) sum += n[k] * (p[a + k] + p[b + k] + p[c + k]);
  return sum / 3 - plane.offset;
}

/** The directions, opposite ones as one, that most area faces; a cube of 3 × 8 × 8 bins. */
function commonDirections({ normals, areas }: Facets, total: number): number[][] {
  const cells = 8;
  const sums = new Float64Array(4 * 3 * cells * cells);
  const place = (ratio: number): number => Math.min(cells - 1, Math.floor(((ratio + 1) / 2) * cells));
  for (let t = 0; t < areas.length; t++) {
    const x = normals[3 * t];
    const y = normals[3 * t + 1];
    const z = normals[3 * t + 2];
    const ax = Math.abs(x);
    const ay = Math.abs(y);
    const az = Math.abs(z);
    const axis = ax >= ay && ax >= az ? 0 : ay >= az ? 1 : 2;
    const [most, u, v] = axis === 0 ? [x, y, z] : axis === 1 ? [y, z, x] : [z, x, y];
    if (most === 0) continue;
    const bin = 4 * ((axis * cells + place(u / most)) * cells + place(v / most));
    const weight = most > 0 ? areas[t] : -areas[t];
    sums[bin] += weight * x;
    sums[bin + 1] += weight * y;
    sums[bin + 2] += weight * z;
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
  { normals, centres, areas }: Facets,
  total: number,
  size: number,
): Plane {
  const d = TABLE_DEFAULTS;
  const least = Math.cos((d.angleDeg * Math.PI) / 180);
  let plane: Plane = { normal: direction, offset: 0, share: 0 };
  for (let round = 0; round < 3; round++) {
    const [nx, ny, nz] = plane.normal;
    const width = (round === 0 ? 4 : 1) * d.thickness * size;
    const height = heights({ ...plane, offset: 0 }, centres);
    let low = Infinity;
    let high = -Infinity;
    for (let t = 0; t < height.length; t++) {
      if (height[t] < low) low = height[t];
      if (height[t] > high) high = height[t];
    }
    const bins = new Float64Array(Math.floor((high - low) / width) + 2);
    const facing = (t: number): number => nx * normals[3 * t] + ny * normals[3 * t + 1] + nz * normals[3 * t + 2];
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
    if (length === 0) return { ...plane, share: 0 };
    plane = { normal: plane.normal, offset: moment / area, share: area / total };
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
