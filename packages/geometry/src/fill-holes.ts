import type { Mesh } from './mesh.js';
import { vertexCount } from './mesh.js';
import type { Rows } from './topology.js';
import { fair } from './fair.js';
import type { FairPatch } from './fair.js';
import { refine } from './refine.js';
import { rimShape } from './rim-shape.js';
import { triangulateLoop } from './triangulate-loop.js';

/**
 * Fills holes with a surface that carries on the curvature around: triangulate the rim, refine to the density around it,
 * fair as a thin plate that leans on a smoothed band. Vertices and triangles of the mesh stay as they are; new ones follow.
 */
export const FILL_DEFAULTS = {
  /** Width of the band that steers a fill, over the hole's radius. */
  bandPerRadius: 0.5,
  /** Narrowest band in edge lengths, and widest in mm. */
  bandEdges: 4,
  widestBand: 8,
  /** Length below which the band's shape counts as noise: over the hole's radius, at least in edge lengths, at most in mm. */
  smoothingPerRadius: 0.12,
  smoothingEdges: 1.5,
  largestSmoothing: 3,
  /** Holes of a greater radius (mm) whose rim is steeper than the angle are skinned over instead of blown up. */
  tensionRadius: 40,
  tensionAngleDeg: 45,
  tension: 8,
} as const;

export interface Filled {
  readonly mesh: Mesh;
  /** First new vertex and first new triangle; those before are the mesh's own. */
  readonly firstVertex: number;
  readonly firstTriangle: number;
  /** First new triangle of each loop, in the order of `loops`, and the end; length loops + 1. */
  readonly starts: Uint32Array;
}

/** `around` holds the triangles at each vertex; `loops` are boundary loops with the surface on the left, each becomes a disc. */
export function fillHoles(mesh: Mesh, around: Rows, loops: readonly Uint32Array[]): Filled {
  const firstVertex = vertexCount(mesh);
  const points: Float64Array[] = [];
  const faces: Uint32Array[] = [];
  const starts = new Uint32Array(loops.length + 1);
  const patches: FairPatch[] = [];
  let vertices = firstVertex;
  starts[0] = mesh.triangles.length / 3;
  loops.forEach((loop, i) => {
    const rim = loop.slice().reverse();
    const patch = closeLoop(mesh, around, rim);
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
    firstTriangle: mesh.triangles.length / 3,
    starts,
  };
}

interface Closed {
  readonly points: Float64Array;
  readonly triangles: Uint32Array;
  readonly fairing: Omit<FairPatch, 'vertices'>;
}

/** A disc on a rim that runs with the filling on its left. */
function closeLoop(mesh: Mesh, around: Rows, rim: Uint32Array): Closed {
  const n = rim.length;
  const points = new Float64Array(3 * n);
  rim.forEach((v, i) => points.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i));
  const { normals, sizes } = rimSurroundings(mesh, around, rim);
  const { triangles, plane } = triangulateLoop(points, normals);
  const disc = splitRepeatedEdges(refine({ points, triangles }, sizes, plane), mesh, around, rim);

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
  const steepness = radius > d.tensionRadius ? (rimShape(mesh, around, rim.slice().reverse())?.steepness ?? 0) : 0;
  const steep = steepness > (d.tensionAngleDeg * Math.PI) / 180;
  return {
    ...disc,
    fairing: {
      band: Math.max(d.bandEdges * edge, Math.min(d.bandPerRadius * radius, d.widestBand)),
      smoothing: Math.max(d.smoothingEdges * edge, Math.min(d.smoothingPerRadius * radius, d.largestSmoothing)),
      tension: steep ? d.tension : Infinity,
    },
  };
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

/** Splits edges of the disc between two rim vertices that the mesh joins already, so that no edge comes twice. */
function splitRepeatedEdges(
  disc: { points: Float64Array; triangles: Uint32Array },
  mesh: Mesh,
  around: Rows,
  rim: Uint32Array,
): { points: Float64Array; triangles: Uint32Array } {
  const n = rim.length;
  const joined = (v: number, w: number): boolean => {
    for (let r = around.offsets[v]; r < around.offsets[v + 1]; r++) {
      for (let k = 0; k < 3; k++) if (mesh.triangles[3 * around.items[r] + k] === w) return true;
    }
    return false;
  };
  const middles = new Map<number, number>();
  const extra: number[] = [];
  const count = disc.points.length / 3;
  const faces: number[] = [];
  const stack: [number, number, number][] = [];
  for (let t = disc.triangles.length - 3; t >= 0; t -= 3) stack.push([disc.triangles[t], disc.triangles[t + 1], disc.triangles[t + 2]]);
  for (let face = stack.pop(); face; face = stack.pop()) {
    const at = [0, 1, 2].find((k) => {
      const [a, b] = [(face as number[])[k], (face as number[])[(k + 1) % 3]];
      return a < n && b < n && (a + 1) % n !== b && (b + 1) % n !== a && joined(rim[a], rim[b]);
    });
    if (at === undefined) {
      faces.push(...face);
      continue;
    }
    const [a, b, c] = [face[at], face[(at + 1) % 3], face[(at + 2) % 3]];
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
