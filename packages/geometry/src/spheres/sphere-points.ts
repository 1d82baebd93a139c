import type { FoundSphere } from './find-spheres.js';
import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import { meanEdgeLength } from '../mesh/quantities.js';
import { BOUNDARY, nextHalfedge, twins } from '../mesh/topology.js';
import { compactVertices } from '../mesh/components.js';
import { weld } from '../repair/weld.js';

/** The scanned surface of one ball. */
export interface SphereSurface {
  /** Its triangles, welded, in the scene's coordinates. */
  readonly mesh: Mesh;
  /** One byte a vertex: 1 where it may be measured; scanners bend the surface at its edges, so points there may not. */
  readonly inner: Uint8Array;
}

export const SPHERE_POINTS = {
  /** Rings of vertices left out along edges of the surface, and how wide they may be together as a share of the radius: one at least. */
  rings: 2,
  width: 0.12,
  /** A surface so torn that this leaves less than this share of its points keeps more of its edges. */
  leastLeft: 0.6,
  /** Directions from the centre are counted in this many cells a side of a cube. */
  cells: 4,
  /** Surface seen twice counts once: a cell holds at most this much of its own solid angle. */
  fullest: 1.2,
} as const;

/** The surface of a found sphere, cut out of its scene. */
export function sphereSurface(scene: Mesh, { triangles, radius }: Pick<FoundSphere, 'triangles' | 'radius'>): SphereSurface {
  const corners = new Uint32Array(3 * triangles.length);
  for (let i = 0; i < triangles.length; i++) for (let k = 0; k < 3; k++) corners[3 * i + k] = scene.triangles[3 * triangles[i] + k];
  const { mesh } = weld(compactVertices({ positions: scene.positions, triangles: corners }));
  const whole = new Uint8Array(vertexCount(mesh)).fill(1);
  const twin = twins(mesh);
  const rings: Uint8Array[] = [whole];
  const count = Math.max(1, Math.min(SPHERE_POINTS.rings, Math.floor((SPHERE_POINTS.width * radius) / meanEdgeLength(mesh))));
  for (let ring = 0; ring < count; ring++) rings.push(ring === 0 ? withoutBoundary(mesh, twin, whole) : withoutRing(mesh, rings[ring]));
  const left = (inner: Uint8Array): number => inner.reduce((sum, v) => sum + v, 0);
  const inner = rings.reverse().find((ring) => left(ring) >= SPHERE_POINTS.leastLeft * whole.length) ?? whole;
  return { mesh, inner };
}

function withoutBoundary(mesh: Mesh, twin: Int32Array, all: Uint8Array): Uint8Array {
  const inner = all.slice();
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== BOUNDARY) continue;
    inner[mesh.triangles[h]] = 0;
    inner[mesh.triangles[nextHalfedge(h)]] = 0;
  }
  return inner;
}

function withoutRing({ triangles: t }: Mesh, before: Uint8Array): Uint8Array {
  const inner = before.slice();
  for (let i = 0; i < t.length; i += 3) {
    if (before[t[i]] + before[t[i + 1]] + before[t[i + 2]] === 3) continue;
    for (let k = 0; k < 3; k++) inner[t[i + k]] = 0;
  }
  return inner;
}

/** The cell of a cube's faces, n × n on each, that a direction points into: numbered from 0 to 6·n² − 1. */
export function directionCell(x: number, y: number, z: number, n: number): number {
  const d = [x, y, z];
  const axis = Math.abs(x) >= Math.abs(y) && Math.abs(x) >= Math.abs(z) ? 0 : Math.abs(y) >= Math.abs(z) ? 1 : 2;
  // The arc tangent makes the cells of a face nearly equal in solid angle.
  const along = (c: number): number => Math.min(n - 1, Math.max(0, Math.floor(n * (0.5 + (2 / Math.PI) * Math.atan(c / Math.abs(d[axis]))))));
  return ((2 * axis + (d[axis] > 0 ? 1 : 0)) * n + along(d[(axis + 1) % 3])) * n + along(d[(axis + 2) % 3]);
}

/**
 * The share of a whole sphere, 0 to 1, that triangles seen from its centre cover (solid angles: A. Van Oosterom & J. Strackee
 * 1983, IEEE Trans Biomed Eng 30:125).
 *
 * @param keep one byte a vertex; triangles count whose three corners are 1
 */
export function coverage({ positions: p, triangles: t }: Mesh, keep: Uint8Array, centre: ArrayLike<number>): number {
  const side = SPHERE_POINTS.cells;
  const cells = new Float64Array(6 * side * side);
  const r = new Float64Array(9);
  for (let i = 0; i < t.length; i += 3) {
    if (keep[t[i]] + keep[t[i + 1]] + keep[t[i + 2]] < 3) continue;
    for (let n = 0; n < 9; n++) r[n] = p[3 * t[i + ((n / 3) | 0)] + (n % 3)] - centre[n % 3];
    const cross = r[0] * (r[4] * r[8] - r[5] * r[7]) + r[1] * (r[5] * r[6] - r[3] * r[8]) + r[2] * (r[3] * r[7] - r[4] * r[6]);
    const a = Math.hypot(r[0], r[1], r[2]);
    const b = Math.hypot(r[3], r[4], r[5]);
    const c = Math.hypot(r[6], r[7], r[8]);
    const dot = (u: number, v: number): number => r[u] * r[v] + r[u + 1] * r[v + 1] + r[u + 2] * r[v + 2];
    const angle = 2 * Math.atan2(cross, a * b * c + dot(0, 3) * c + dot(3, 6) * a + dot(6, 0) * b);
    cells[directionCell(r[0] + r[3] + r[6], r[1] + r[4] + r[7], r[2] + r[5] + r[8], side)] += angle;
  }
  const full = (SPHERE_POINTS.fullest * 4 * Math.PI) / cells.length;
  const sum = cells.reduce((all, c) => all + Math.min(full, Math.abs(c)), 0);
  return Math.min(1, sum / (4 * Math.PI));
}
