import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';
import { fair } from '../smoothing/fair.js';
import type { FairPatch } from '../smoothing/fair.js';
import type { RefinedDisc } from '../remeshing/refine.js';
import { refine } from '../remeshing/refine.js';
import type { RimShape } from './rim-shape.js';
import { rimShape } from './rim-shape.js';
import type { Joined } from './triangulate-loop.js';
import { triangulateLoop } from './triangulate-loop.js';

/**
 * Fills holes with a surface that carries on the curvature around: triangulate the rim, refine to the density around it,
 * fair as a thin plate that leans on a smoothed band. Vertices and triangles of the mesh stay as they are; new ones follow.
 */
export const FILL_DEFAULTS = {
  /**
   * Length below which the shape around a hole counts as noise: over the hole's radius, at least in edge lengths, at most
   * in mm. A surface of curvature radius R is drawn inward by the share 4·(length / R)⁴ where it leans on such a band.
   */
  smoothingPerRadius: 0.07,
  smoothingEdges: 1.5,
  largestSmoothing: 2,
  /** Width of the band that steers a fill, over that length. */
  bandPerSmoothing: 3,
  /**
   * Holes of a greater radius (mm) whose rim is steeper than the angle are skinned over instead of blown up: long ones, as
   * open soles are, and ends of tubes, whose rims are steeper still. Their rims lie in a plane as near as this (over the
   * radius): those of open soles do within 0.12, those of holes round the instep leave it by 0.3 or more (generated casts
   * of the tuning range), and a skin would cut across what bulges…
   */
  tensionRadius: 40,
  tensionAngleDeg: 45,
  tensionAspect: 1.5,
  tubeAngleDeg: 80,
  tensionUnevenness: 0.25,
  /** …beyond this distance from the rim, mm: about how far the skin stands out over the rim. */
  tension: 8,
} as const;

export interface Filled {
  readonly mesh: Mesh;
  /** First new vertex; those before are the mesh's own. */
  readonly firstVertex: number;
  /** First new triangle of each loop, in the order of `loops`, and the end; length loops + 1. */
  readonly starts: Uint32Array;
}

/** `around` holds the triangles at each vertex; `loops` are boundary loops with the surface on the left, each becomes a disc. `tension` in mm, see FILL_DEFAULTS. */
export function fillHoles(
  mesh: Mesh,
  around: Rows,
  loops: readonly Uint32Array[],
  tension: number = FILL_DEFAULTS.tension,
): Filled {
  const firstVertex = vertexCount(mesh);
  const points: Float64Array[] = [];
  const faces: Uint32Array[] = [];
  const starts = new Uint32Array(loops.length + 1);
  const patches: FairPatch[] = [];
  let vertices = firstVertex;
  starts[0] = mesh.triangles.length / 3;
  loops.forEach((loop, i) => {
    const rim = loop.slice().reverse();
    const patch = closeLoop(mesh, around, rim, tension);
    const inner = patch.points.length / 3 - rim.length;
    points.push(patch.points.subarray(3 * rim.length));
    faces.push(patch.triangles.map((v) => (v < rim.length ? rim[v] : vertices + v - rim.length)));
    starts[i + 1] = starts[i] + patch.triangles.length / 3;
    if (inner > 0) patches.push({ ...patch.fairing, vertices: Uint32Array.from({ length: inner }, (_, k) => vertices + k) });
    vertices += inner;
  });
  const positions = new Float64Array(3 * vertices);
  positions.set(mesh.positions);
  let at = mesh.positions.length;
  for (const p of points) {
    positions.set(p, at);
    at += p.length;
  }
  const triangles = new Uint32Array(3 * starts[loops.length]);
  triangles.set(mesh.triangles);
  faces.forEach((f, i) => triangles.set(f, 3 * starts[i]));
  const flat = { positions, triangles };
  return {
    mesh: patches.length > 0 ? { positions: fair(flat, patches), triangles } : flat,
    firstVertex,
    starts,
  };
}

interface Closed {
  readonly points: Float64Array;
  readonly triangles: Uint32Array;
  readonly fairing: Omit<FairPatch, 'vertices'>;
}

/** A disc on a rim that runs with the filling on its left. */
function closeLoop(mesh: Mesh, around: Rows, rim: Uint32Array, tension: number): Closed {
  const n = rim.length;
  const points = new Float64Array(3 * n);
  rim.forEach((v, i) => points.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i));
  const { normals, sizes } = rimSurroundings(mesh, around, rim);
  const joined = joinedOutside(mesh, around, rim);
  const { triangles, plane } = triangulateLoop(points, normals, joined);
  const disc = splitRepeatedEdges(refine(points, triangles, sizes, plane, joined), n, joined);

  let area = 0;
  for (let t = 0; t < disc.triangles.length; t += 3) {
    const [a, b, c] = [disc.triangles[t], disc.triangles[t + 1], disc.triangles[t + 2]].map((v) => disc.points.subarray(3 * v, 3 * v + 3));
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
    area += Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
  }
  const radius = Math.sqrt(area / Math.PI);
  const edge = sizes.reduce((sum, s) => sum + s, 0) / n;
  const d = FILL_DEFAULTS;
  const smoothing = Math.min(Math.max(d.smoothingEdges * edge, d.smoothingPerRadius * radius), d.largestSmoothing);
  const shape = radius > d.tensionRadius ? rimShape(mesh, around, rim.slice().reverse()) : null;
  const isSkin = shape !== null && isFlatEnd(shape);
  return {
    ...disc,
    fairing: {
      band: d.bandPerSmoothing * smoothing,
      smoothing,
      tension: isSkin ? tension : Infinity,
    },
  };
}

function isFlatEnd({ steepness, aspect, unevenness, radius }: RimShape): boolean {
  const d = FILL_DEFAULTS;
  const steep = (steepness * 180) / Math.PI;
  return unevenness < d.tensionUnevenness * radius && (steep > d.tubeAngleDeg || (steep > d.tensionAngleDeg && aspect > d.tensionAspect));
}

/** Unit normal (3 × rim) and mean edge length of the surface at each rim vertex. */
function rimSurroundings(mesh: Mesh, around: Rows, rim: Uint32Array): { normals: Float64Array; sizes: Float64Array } {
  const { positions: p, triangles: t } = mesh;
  const normals = new Float64Array(3 * rim.length);
  const sizes = new Float64Array(rim.length);
  rim.forEach((v, i) => {
    let length = 0;
    for (let r = around.offsets[v]; r < around.offsets[v + 1]; r++) {
      const [a, b, c] = [0, 1, 2].map((k) => 3 * t[3 * around.items[r] + k]);
      const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const w = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      normals[3 * i] += u[1] * w[2] - u[2] * w[1];
      normals[3 * i + 1] += u[2] * w[0] - u[0] * w[2];
      normals[3 * i + 2] += u[0] * w[1] - u[1] * w[0];
      length += (Math.hypot(...u) + Math.hypot(...w) + Math.hypot(w[0] - u[0], w[1] - u[1], w[2] - u[2])) / 3;
    }
    sizes[i] = length / (around.offsets[v + 1] - around.offsets[v]);
    const norm = Math.hypot(normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]);
    if (norm > 0) for (let k = 0; k < 3; k++) normals[3 * i + k] /= norm;
  });
  const smooth = sizes.map((s, i) => (s + sizes[(i + 1) % rim.length] + sizes[(i + rim.length - 1) % rim.length]) / 3);
  return { normals, sizes: smooth };
}

/** Whether the mesh has an edge between two rim vertices (by index) that do not follow each other. */
function joinedOutside(mesh: Mesh, around: Rows, rim: Uint32Array): Joined {
  const n = rim.length;
  const index = new Map<number, number>();
  rim.forEach((v, i) => index.set(v, i));
  const edges = new Set<number>();
  rim.forEach((v, i) => {
    for (let r = around.offsets[v]; r < around.offsets[v + 1]; r++) {
      for (let k = 0; k < 3; k++) {
        const j = index.get(mesh.triangles[3 * around.items[r] + k]);
        if (j !== undefined && j > i && j !== i + 1 && (j + 1) % n !== i) edges.add(i * n + j);
      }
    }
  });
  return (a, b) => edges.size > 0 && edges.has(Math.min(a, b) * n + Math.max(a, b));
}

/** Splits edges of the disc that the mesh has already at their middle, so that none comes twice. `n` rim vertices come first. */
function splitRepeatedEdges(disc: RefinedDisc, n: number, joined: Joined): RefinedDisc {
  const middles = new Map<number, number>();
  const extra: number[] = [];
  const count = disc.points.length / 3;
  const faces: number[] = [];
  const stack: [number, number, number][] = [];
  for (let t = disc.triangles.length - 3; t >= 0; t -= 3) stack.push([disc.triangles[t], disc.triangles[t + 1], disc.triangles[t + 2]]);
  for (let face = stack.pop(); face; face = stack.pop()) {
    const at = [0, 1, 2].find((k) => {
      const a = (face as number[])[k];
      const b = (face as number[])[(k + 1) % 3];
      return a < n && b < n && joined(a, b);
    });
    if (at === undefined) {
      faces.push(...face);
      continue;
    }
    const a = face[at];
    const b = face[(at + 1) % 3];
    const c = face[(at + 2) % 3];
    const key = Math.min(a, b) * n + Math.max(a, b);
    let m = middles.get(key);
    if (m === undefined) {
      m = count + extra.length / 3;
      middles.set(key, m);
      for (let k = 0; k < 3; k++) extra.push((disc.points[3 * a + k] + disc.points[3 * b + k]) / 2);
    }
    stack.push([a, m, c], [m, b, c]);
  }
  if (middles.size === 0) return disc;
  const points = new Float64Array(disc.points.length + extra.length);
  points.set(disc.points);
  points.set(extra, disc.points.length);
  return { points, triangles: Uint32Array.from(faces) };
}
