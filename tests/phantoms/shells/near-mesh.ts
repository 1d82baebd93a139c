import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { PointTree } from './point-tree.js';

/** Distances to a mesh of even, small triangles: those at the nearest vertex and at its neighbours are tried. */
export class NearMesh {
  readonly #mesh: Mesh;
  readonly #tree: PointTree;
  readonly #start: Uint32Array;
  readonly #list: Uint32Array;

  constructor(mesh: Mesh) {
    this.#mesh = mesh;
    this.#tree = new PointTree(mesh.positions);
    const { triangles } = mesh;
    this.#start = new Uint32Array(mesh.positions.length / 3 + 1);
    for (const v of triangles) this.#start[v + 1]++;
    for (let v = 1; v < this.#start.length; v++) this.#start[v] += this.#start[v - 1];
    const fill = this.#start.slice();
    this.#list = new Uint32Array(triangles.length);
    for (let h = 0; h < triangles.length; h++) this.#list[fill[triangles[h]]++] = Math.floor(h / 3);
  }

  /** mm */
  distance(x: number, y: number, z: number): number {
    const nearest = this.#tree.nearest(x, y, z);
    const { triangles } = this.#mesh;
    let square = Infinity;
    const ring = new Set<number>([nearest]);
    for (let i = this.#start[nearest]; i < this.#start[nearest + 1]; i++) for (let k = 0; k < 3; k++) ring.add(triangles[3 * this.#list[i] + k]);
    for (const v of ring) for (let i = this.#start[v]; i < this.#start[v + 1]; i++) square = Math.min(square, toTriangle(this.#mesh, this.#list[i], x, y, z));
    return Math.sqrt(square);
  }
}

/** Squared distance to a triangle: to its plane where the foot of the perpendicular lies inside, else to its edges. */
export function toTriangle({ positions: p, triangles }: Mesh, t: number, x: number, y: number, z: number): number {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const [dx, dy, dz] = [x - p[a], y - p[a + 1], z - p[a + 2]];
  const [uu, uv, vv] = [ux * ux + uy * uy + uz * uz, ux * vx + uy * vy + uz * vz, vx * vx + vy * vy + vz * vz];
  const [du, dv] = [dx * ux + dy * uy + dz * uz, dx * vx + dy * vy + dz * vz];
  const det = uu * vv - uv * uv;
  if (det > 1e-14) {
    const [s, r] = [(du * vv - dv * uv) / det, (dv * uu - du * uv) / det];
    if (s >= 0 && r >= 0 && s + r <= 1) return (dx - s * ux - r * vx) ** 2 + (dy - s * uy - r * vy) ** 2 + (dz - s * uz - r * vz) ** 2;
  }
  return Math.min(toEdge(p, a, b, x, y, z), toEdge(p, b, c, x, y, z), toEdge(p, c, a, x, y, z));
}

function toEdge(p: Float64Array, a: number, b: number, x: number, y: number, z: number): number {
  const [ex, ey, ez] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [dx, dy, dz] = [x - p[a], y - p[a + 1], z - p[a + 2]];
  const t = Math.min(1, Math.max(0, (dx * ex + dy * ey + dz * ez) / Math.max(1e-18, ex * ex + ey * ey + ez * ez)));
  return (dx - t * ex) ** 2 + (dy - t * ey) ** 2 + (dz - t * ez) ** 2;
}
