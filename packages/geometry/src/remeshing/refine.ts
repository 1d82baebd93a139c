import { Disc } from './disc.js';
import type { Joined } from '../repair/triangulate-loop.js';

/**
 * Refines a triangulated disc: edges longer than the size wanted at their middle are split, and edges are flipped until
 * they are Delaunay. The wanted size is that of the rim nearby, even for some rows, then growing inward, so that a large
 * hole costs triangles by the length of its rim and not by its area (after P. Liepa, SGP 2003, with grading).
 */
export const REFINE_DEFAULTS = {
  /** Edges longer than this times the wanted size are split. */
  split: 4 / 3,
  /** Rows along the rim that keep the rim's size. */
  evenRows: 4,
  /** Growth of the wanted size per length beyond them. */
  grading: 0.3,
  /** Largest wanted size, mesh unit (mm). */
  largest: 5,
  /** Rounds of splitting; each halves the longest edges. */
  rounds: 24,
  /** Sweeps at the end that move inner vertices to the middle of their neighbours; earlier they would dilute the grading. */
  relaxations: 3,
} as const;

export interface RefinedDisc {
  /** x, y, z of each vertex: first the rim, then the inner ones. */
  readonly points: Float64Array;
  readonly triangles: Uint32Array;
}

/**
 * @param points the vertices of the rim (3 × rim)
 * @param triangles between them, all turned the same way
 * @param sizes the wanted edge length at each rim vertex
 * @param plane axes u, v, normal (9 numbers) where the disc is flat enough to be judged by its shadow, else null
 * @param joined whether the surface outside joins two rim vertices already
 */
export function refine(
  points: Float64Array,
  triangles: Uint32Array,
  sizes: Float64Array,
  plane: Float64Array | null,
  joined: Joined = () => false,
): RefinedDisc {
  const rim = points.length / 3;
  const disc = plane
    ? new Disc(inPlane(points, plane), along(points, plane.subarray(6)), triangles, true, joined)
    : new Disc(points, new Float64Array(rim), triangles, false, joined);
  const fields = { size: Array.from(sizes), depth: Array.from(sizes, () => 0) };
  const all = (): number[] => Array.from({ length: 3 * disc.triangleCount }, (_, h) => h);
  makeDelaunay(disc, all());
  for (let round = 0; round < REFINE_DEFAULTS.rounds; round++) {
    const touched = splitLong(disc, fields);
    if (touched.length === 0) break;
    makeDelaunay(disc, touched);
  }
  for (let i = 0; i < REFINE_DEFAULTS.relaxations; i++) {
    relax(disc);
    makeDelaunay(disc, all());
  }
  const out = disc.points.slice(0, 3 * disc.vertexCount);
  return {
    points: plane ? outOfPlane(out, disc.height, plane, points) : out,
    triangles: disc.triangles.slice(0, 3 * disc.triangleCount),
  };
}

interface Fields {
  /** Size of the rim near each vertex, and distance to the rim. */
  readonly size: number[];
  readonly depth: number[];
}

/** Splits inner edges that are too long, longest first and no two of one triangle; gives the halfedges around them. */
function splitLong(disc: Disc, fields: Fields): number[] {
  const edges: { h: number; excess: number; size: number; depth: number }[] = [];
  const { split, evenRows, grading, largest } = REFINE_DEFAULTS;
  for (let h = 0; h < 3 * disc.triangleCount; h++) {
    if (disc.twin[h] < h) continue;
    const a = disc.start(h);
    const b = disc.end(h);
    const length = disc.distance(a, b);
    const size = (fields.size[a] + fields.size[b]) / 2;
    if (length <= split * size) continue;
    const depth = Math.min(
      Math.min(fields.depth[a], fields.depth[b]) + length / 2,
      fields.depth[disc.apex(h)] + toMiddle(disc, disc.apex(h), a, b),
      fields.depth[disc.apex(disc.twin[h])] + toMiddle(disc, disc.apex(disc.twin[h]), a, b),
    );
    const wanted = Math.max(size, Math.min(size + grading * Math.max(0, depth - evenRows * size), largest));
    const excess = length / (split * wanted);
    if (excess > 1) edges.push({ h, excess, size, depth });
  }
  edges.sort((a, b) => b.excess - a.excess || a.h - b.h);
  const busy = new Uint8Array(disc.triangleCount);
  const touched: number[] = [];
  for (const { h, size, depth } of edges) {
    const t = (h / 3) | 0;
    const s = (disc.twin[h] / 3) | 0;
    if (busy[t] || busy[s]) continue;
    busy[t] = 1;
    busy[s] = 1;
    const m = disc.split(h);
    fields.size[m] = size;
    fields.depth[m] = depth;
    for (const f of [t, s, disc.triangleCount - 2, disc.triangleCount - 1]) touched.push(3 * f, 3 * f + 1, 3 * f + 2);
  }
  return touched;
}

function toMiddle(disc: Disc, v: number, a: number, b: number): number {
  const p = disc.points;
  const x = p[3 * v] - (p[3 * a] + p[3 * b]) / 2;
  const y = p[3 * v + 1] - (p[3 * a + 1] + p[3 * b + 1]) / 2;
  const z = p[3 * v + 2] - (p[3 * a + 2] + p[3 * b + 2]) / 2;
  return Math.sqrt(x * x + y * y + z * z);
}

/** Flips inner edges, from the given ones outward, until each has opposite angles of at most 180° together. */
function makeDelaunay(disc: Disc, stack: number[]): void {
  let budget = 60 * disc.triangleCount + 1000;
  for (let h = stack.pop(); h !== undefined; h = stack.pop()) {
    const g = disc.twin[h];
    if (g < 0 || budget-- < 0) continue;
    if (disc.cotangent(h) + disc.cotangent(g) >= -1e-7 || !disc.flip(h)) continue;
    const t = h - (h % 3);
    const s = g - (g % 3);
    stack.push(t, t + 1, t + 2, s, s + 1, s + 2);
  }
}

/** Moves each inner vertex half-way to the middle of its neighbours; in a flat disc only where no triangle turns over. */
function relax(disc: Disc): void {
  const { points: p, height, rim, vertexCount, triangleCount, triangles: t } = disc;
  const sum = new Float64Array(5 * vertexCount);
  for (let h = 0; h < 3 * triangleCount; h++) {
    const a = disc.start(h);
    if (a < rim) continue;
    const b = disc.end(h);
    for (let k = 0; k < 3; k++) sum[5 * a + k] += p[3 * b + k];
    sum[5 * a + 3] += height[b];
    sum[5 * a + 4]++;
  }
  const before = p.slice(0, 3 * vertexCount);
  for (let v = rim; v < vertexCount; v++) {
    const count = sum[5 * v + 4];
    for (let k = 0; k < 3; k++) p[3 * v + k] += (sum[5 * v + k] / count - p[3 * v + k]) / 2;
    height[v] += (sum[5 * v + 3] / count - height[v]) / 2;
  }
  if (!disc.flat) return;
  const normal = new Float64Array(3);
  for (let turned = true; turned; ) {
    turned = false;
    for (let i = 0; i < 3 * triangleCount; i += 3) {
      disc.normal(t[i], t[i + 1], t[i + 2], normal, 0);
      if (normal[2] > 0) continue;
      for (let k = i; k < i + 3; k++) {
        const v = t[k];
        if (p[3 * v] === before[3 * v] && p[3 * v + 1] === before[3 * v + 1]) continue;
        p[3 * v] = before[3 * v];
        p[3 * v + 1] = before[3 * v + 1];
        turned = true;
      }
    }
  }
}

/** Coordinate of each point along a unit vector. */
function along(points: Float64Array, axis: Float64Array): Float64Array {
  const out = new Float64Array(points.length / 3);
  for (let i = 0; i < out.length; i++) {
    out[i] =
      axis[0] * (points[3 * i] - points[0]) + axis[1] * (points[3 * i + 1] - points[1]) + axis[2] * (points[3 * i + 2] - points[2]);
  }
  return out;
}

function inPlane(points: Float64Array, plane: Float64Array): Float64Array {
  const u = along(points, plane.subarray(0, 3));
  const v = along(points, plane.subarray(3, 6));
  const out = new Float64Array(points.length);
  for (let i = 0; i < u.length; i++) {
    out[3 * i] = u[i];
    out[3 * i + 1] = v[i];
  }
  return out;
}

/** Points back in space; the rim's exactly as they were. */
function outOfPlane(flat: Float64Array, height: Float64Array, plane: Float64Array, rim: Float64Array): Float64Array {
  const out = new Float64Array(flat.length);
  for (let i = 0; i < flat.length / 3; i++) {
    for (let k = 0; k < 3; k++) {
      out[3 * i + k] = rim[k] + flat[3 * i] * plane[k] + flat[3 * i + 1] * plane[3 + k] + height[i] * plane[6 + k];
    }
  }
  out.set(rim);
  return out;
}
