import type { ExactMesh } from '../surface/densify.js';
import { gradient, type Field } from '../surface/implicit.js';
import { neighbours, VertexGrid, type Neighbours } from '../surface/surface-walk.js';
import type { Region } from '../truth.js';

/** The clean surface as the marks are planted on it: everything in the foot frame of a right foot. */
export class Ground {
  readonly mesh: ExactMesh;
  readonly field: Field;
  readonly around: Neighbours;
  readonly grid: VertexGrid;
  readonly regionOf: (vertex: number) => Region;
  /** Displacement along the normals by marks, mm. */
  readonly heights: Float64Array;
  /** The mark that displaces a vertex most, or −1. */
  readonly markOf: Int32Array;
  /** 1 where a further mark may not lie. */
  readonly taken: Uint8Array;

  constructor(mesh: ExactMesh, field: Field, regionOf: (vertex: number) => Region) {
    const n = mesh.positions.length / 3;
    this.mesh = mesh;
    this.field = field;
    this.around = neighbours(mesh);
    this.grid = new VertexGrid(mesh.positions, 12);
    this.regionOf = regionOf;
    this.heights = new Float64Array(n);
    this.markOf = new Int32Array(n).fill(-1);
    this.taken = new Uint8Array(n);
  }

  point(vertex: number): [number, number, number] {
    const p = this.mesh.positions;
    return [p[3 * vertex], p[3 * vertex + 1], p[3 * vertex + 2]];
  }

  normal(vertex: number): [number, number, number] {
    const n = this.mesh.normals;
    return [n[3 * vertex], n[3 * vertex + 1], n[3 * vertex + 2]];
  }

  /** The point put on the surface, and the unit normal there. */
  land(from: readonly [number, number, number]): { point: [number, number, number]; normal: [number, number, number] } {
    const point: [number, number, number] = [...from];
    const normal: [number, number, number] = [0, 0, 1];
    const g = new Float64Array(3);
    for (let step = 0; step < 6; step++) {
      const value = gradient(this.field, point[0], point[1], point[2], g);
      const square = g[0] * g[0] + g[1] * g[1] + g[2] * g[2];
      for (let k = 0; k < 3; k++) {
        point[k] -= (value / square) * g[k];
        normal[k] = g[k] / Math.sqrt(square);
      }
      if (Math.abs(value) < 1e-8) break;
    }
    return { point, normal };
  }

  /** Whether displacing `vertices` by `height(v)` (added to what is there) would fold the surface or squeeze an edge below a fifth. */
  folds(vertices: readonly number[], height: (vertex: number) => number): boolean {
    const { positions, normals } = this.mesh;
    const inside = new Set(vertices);
    const total = (v: number): number => this.heights[v] + (inside.has(v) ? height(v) : 0);
    for (const v of vertices) {
      for (let i = this.around.start[v]; i < this.around.start[v + 1]; i++) {
        const w = this.around.list[i];
        let old = 0;
        let kept = 0;
        const [hv, hw] = [total(v), total(w)];
        for (let k = 0; k < 3; k++) {
          const edge = positions[3 * w + k] - positions[3 * v + k];
          old += edge * edge;
          kept += edge * (edge + hw * normals[3 * w + k] - hv * normals[3 * v + k]);
        }
        if (kept < 0.2 * old) return true;
      }
    }
    return false;
  }

  /** Adds a mark's heights; `own` is its number among the marks. Returns the vertices raised or lowered by a tenth of `depth` or more. */
  plant(own: number, vertices: readonly number[], height: (vertex: number) => number, depth: number): Uint32Array {
    const visible: number[] = [];
    for (const v of vertices) {
      const h = height(v);
      this.heights[v] += h;
      if (Math.abs(h) < 0.1 * Math.abs(depth)) continue;
      visible.push(v);
      this.markOf[v] = own;
    }
    return Uint32Array.from(visible);
  }
}
