import { length3 } from '../numerics/lengths.js';
import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';
import { vertexTriangles } from '../mesh/topology.js';
import { localLaplacian } from './laplacian.js';
import type { LocalLaplacian } from './laplacian.js';
import type { SparseSymmetric } from '../numerics/sparse-cholesky.js';
import { factorize } from '../numerics/sparse-cholesky.js';

/**
 * Fairs patches of a surface: each patch takes the shape of a thin plate that carries on the surface around it in position
 * and tangent. A band around the patch takes part as a smoothing spline, pulled to its measured points, so that the plate
 * leans on the trend of the band and not on the noise of the rim; the band itself then stays where it was.
 *
 * Minimised: Σ A·|Δx|² (thin plate) + Σ w·|xᵢ − xⱼ|² / tension² + Σ_band A·|x − measured|² / smoothing⁴, with cotangent
 * weights w and vertex areas A (Botsch & Kobbelt, ACM TOG 23, 2004). One sparse direct solve for patches whose bands
 * touch, repeated with the weights of the surface that came out.
 */
export interface FairPatch {
  /** The vertices to move. */
  readonly vertices: Uint32Array;
  /** Width of the band around the patch that steers it, mesh unit. */
  readonly band: number;
  /** Length below which the band's shape counts as noise, mesh unit. */
  readonly smoothing: number;
  /** Length beyond which the patch acts as a stretched skin instead of a plate, mesh unit; Infinity for a pure plate. */
  readonly tension: number;
}

export const FAIR_DEFAULTS = {
  /** Most solves, each with the weights of the surface from the one before. */
  rounds: 2,
  /** A patch that moved by less than this share of its own radius is not solved again. */
  settled: 0.1,
} as const;

/**
 * Positions with the patches' vertices moved; all others are bit-for-bit where they were. Length 3 × vertices. Patches
 * should start near their surroundings; where a system cannot be solved (or would take too long) they stay where they are.
 */
export function fair(mesh: Mesh, patches: readonly FairPatch[]): Float64Array {
  const around = vertexTriangles(mesh);
  const out = mesh.positions.slice();
  const weighed = mesh.positions.slice();
  let unsettled = patches.filter((patch) => patch.vertices.length > 0);
  for (let round = 0; round < FAIR_DEFAULTS.rounds && unsettled.length > 0; round++) {
    const before = out.slice();
    const whole = fairDomain({ positions: before, triangles: mesh.triangles }, unsettled, around);
    for (const domain of connectedDomains(mesh, whole, around)) {
      const laplacian = localLaplacian({ positions: weighed, triangles: mesh.triangles }, around, domain.vertices);
      const plate = solvePlate(before, laplacian, domain, unsettled);
      if (!plate) continue;
      for (let i = 0; i < domain.vertices.length; i++) {
        const v = 3 * domain.vertices[i];
        for (let k = 0; k < 3; k++) {
          weighed[v + k] = plate[k][i];
          if (i < domain.freeCount) out[v + k] = plate[k][i];
        }
      }
    }
    unsettled = unsettled.filter((patch) => !isSettled(patch, before, out));
  }
  return out;
}

function isSettled({ vertices }: FairPatch, before: Float64Array, after: Float64Array): boolean {
  const middle = [0, 1, 2].map((k) => vertices.reduce((sum, v) => sum + after[3 * v + k], 0) / vertices.length);
  let radius = 0;
  let moved = 0;
  for (const v of vertices) {
    radius = Math.max(radius, length3(after[3 * v] - middle[0], after[3 * v + 1] - middle[1], after[3 * v + 2] - middle[2]));
    moved = Math.max(moved, length3(after[3 * v] - before[3 * v], after[3 * v + 1] - before[3 * v + 1], after[3 * v + 2] - before[3 * v + 2]));
  }
  return moved <= FAIR_DEFAULTS.settled * radius;
}

interface Domain {
  /** The vertices that the plate spans: first the free ones, then those of the bands. */
  readonly vertices: Uint32Array;
  readonly freeCount: number;
  /** The patch that each of them belongs to. */
  readonly patch: Uint32Array;
}

/** The free vertices, and those that a walk along edges reaches from them within the patch's band. */
function fairDomain(mesh: Mesh, patches: readonly FairPatch[], around: Rows): Domain {
  const { positions: p, triangles } = mesh;
  const budget = new Float64Array(vertexCount(mesh)).fill(-1);
  const owner = new Uint32Array(vertexCount(mesh));
  const vertices: number[] = [];
  patches.forEach((patch, i) => {
    for (const v of patch.vertices) {
      if (budget[v] >= 0) continue;
      budget[v] = Infinity;
      owner[v] = i;
      vertices.push(v);
    }
  });
  const freeCount = vertices.length;
  let front = vertices.slice();
  while (front.length > 0) {
    const reached: number[] = [];
    for (const v of front) {
      for (let i = around.offsets[v]; i < around.offsets[v + 1]; i++) {
        for (let k = 0; k < 3; k++) {
          const w = triangles[3 * around.items[i] + k];
          const length = length3(p[3 * v] - p[3 * w], p[3 * v + 1] - p[3 * w + 1], p[3 * v + 2] - p[3 * w + 2]);
          const left = budget[v] === Infinity ? patches[owner[v]].band : budget[v] - length;
          if (left <= budget[w] || left <= 0) continue;
          if (budget[w] < 0) vertices.push(w);
          budget[w] = left;
          owner[w] = owner[v];
          reached.push(w);
        }
      }
    }
    front = reached;
  }
  return {
    vertices: Uint32Array.from(vertices),
    freeCount,
    patch: Uint32Array.from(vertices, (v) => owner[v]),
  };
}

/** The domain's parts that do not touch, each with its free vertices first. */
function connectedDomains({ triangles }: Mesh, whole: Domain, around: Rows): Domain[] {
  const place = new Map<number, number>();
  whole.vertices.forEach((v, i) => place.set(v, i));
  const seen = new Uint8Array(whole.vertices.length);
  const parts: Domain[] = [];
  for (let seed = 0; seed < whole.freeCount; seed++) {
    if (seen[seed]) continue;
    seen[seed] = 1;
    const members = [seed];
    for (const i of members) {
      const v = whole.vertices[i];
      for (let h = around.offsets[v]; h < around.offsets[v + 1]; h++) {
        for (let k = 0; k < 3; k++) {
          const j = place.get(triangles[3 * around.items[h] + k]);
          if (j === undefined || seen[j]) continue;
          seen[j] = 1;
          members.push(j);
        }
      }
    }
    members.sort((a, b) => a - b);
    parts.push({
      vertices: Uint32Array.from(members, (i) => whole.vertices[i]),
      freeCount: members.filter((i) => i < whole.freeCount).length,
      patch: Uint32Array.from(members, (i) => whole.patch[i]),
    });
  }
  return parts;
}

/** x, y and z of the domain's vertices on the plate; null where the system is not positive definite. */
function solvePlate(
  measured: Float64Array,
  laplacian: LocalLaplacian,
  domain: Domain,
  patches: readonly FairPatch[],
): Float64Array[] | null {
  const n = domain.vertices.length;
  const { offsets, columns, weights, area, sound, vertices } = laplacian;
  const rows = new Uint32Array(n + 1);
  let columnsOut = new Uint32Array(24 * n + 64);
  let valuesOut = new Float64Array(columnsOut.length);
  const sides = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  const slot = new Int32Array(vertices.length).fill(-1);
  let size = 0;
  const add = (start: number, j: number, value: number): void => {
    if (slot[j] < start) {
      if (size === columnsOut.length) {
        columnsOut = grown(columnsOut, new Uint32Array(2 * size));
        valuesOut = grown(valuesOut, new Float64Array(2 * size));
      }
      slot[j] = size;
      columnsOut[size] = j;
      valuesOut[size++] = 0;
    }
    valuesOut[slot[j]] += value;
  };
  const entryAt = (row: number, column: number): number => {
    let e = offsets[row];
    while (columns[e] !== column) e++;
    return e;
  };
  /** Adds to row c, or to its right-hand side where vertex j is outside and stays. */
  const addOrFix = (c: number, j: number, value: number): void => {
    if (j < n) {
      add(rows[c], j, value);
      return;
    }
    const v = 3 * vertices[j];
    for (let k = 0; k < 3; k++) sides[k][c] -= value * measured[v + k];
  };
  for (let c = 0; c < n; c++) {
    const start = size;
    for (let e = offsets[c]; e < offsets[c + 1]; e++) {
      const i = columns[e];
      if (i >= n || (i >= domain.freeCount && !sound[i])) continue;
      const scale = weights[entryAt(i, c)] / area[i];
      for (let f = offsets[i]; f < offsets[i + 1]; f++) addOrFix(c, columns[f], scale * weights[f]);
    }
    for (let e = offsets[c] + 1; e < offsets[c + 1]; e++) {
      const j = columns[e];
      if (c >= domain.freeCount && j >= domain.freeCount) continue;
      const stretch = patches[domain.patch[c < domain.freeCount ? c : j]].tension ** -2;
      if (stretch === 0) continue;
      const pull = (stretch * (weights[e] + (j < n ? weights[entryAt(j, c)] : weights[e]))) / 2;
      add(start, c, pull);
      addOrFix(c, j, -pull);
    }
    if (c >= domain.freeCount) {
      const pull = area[c] / patches[domain.patch[c]].smoothing ** 4;
      add(start, c, pull);
      for (let k = 0; k < 3; k++) sides[k][c] += pull * measured[3 * vertices[c] + k];
    }
    rows[c + 1] = size;
  }
  const points = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) points.set(measured.subarray(3 * vertices[i], 3 * vertices[i] + 3), 3 * i);
  const matrix: SparseSymmetric = { size: n, offsets: rows, columns: columnsOut.slice(0, size), values: valuesOut.slice(0, size) };
  const factor = factorize(matrix, points);
  if (!factor) return null;
  factor.solve(...sides);
  return sides;
}

function grown<T extends Uint32Array | Float64Array>(old: T, wider: T): T {
  wider.set(old);
  return wider;
}
