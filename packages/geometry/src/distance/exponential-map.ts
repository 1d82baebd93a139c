import { length3 } from '../numerics/lengths.js';
import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';
import type { Rows } from '../mesh/topology.js';

/** Vertices round a centre with flat coordinates that keep distance and direction along the surface from the centre. */
export interface FlatPatch {
  readonly vertices: Uint32Array;
  /** u, v of each vertex; length 2 × vertices. The first is the centre, at 0, 0. */
  readonly flat: Float64Array;
}

/**
 * Discrete exponential map (Schmidt, Grimm & Wyvill 2006; averaged over all known neighbours as in Schmidt 2013): flat
 * coordinates spread from the centre in order of distance, each vertex placed by its known neighbours, whose tangent
 * axes are carried along.
 */
export class ExponentialMap {
  private readonly mesh: Mesh;
  private readonly neighbours: Rows;
  private readonly normals: Float64Array;
  private readonly reach: Float64Array;
  private readonly known: Uint8Array;
  private readonly u: Float64Array;
  private readonly v: Float64Array;
  private readonly axis: Float64Array;

  /** @param normals unit normals of the vertices */
  constructor(mesh: Mesh, neighbours: Rows, normals: Float64Array) {
    const count = vertexCount(mesh);
    this.mesh = mesh;
    this.neighbours = neighbours;
    this.normals = normals;
    this.reach = new Float64Array(count).fill(Infinity);
    this.known = new Uint8Array(count);
    this.u = new Float64Array(count);
    this.v = new Float64Array(count);
    this.axis = new Float64Array(3 * count);
  }

  /** @param radius how far along edges the patch reaches, in the mesh's unit */
  around(centre: number, radius: number): FlatPatch {
    const { reach, known, u, v, neighbours } = this;
    const heap: number[] = [centre];
    const touched: number[] = [centre];
    const taken: number[] = [];
    reach[centre] = 0;
    this.startAxis(centre);
    while (heap.length > 0) {
      const q = this.pop(heap);
      if (known[q] === 1) continue;
      if (q !== centre) this.place(q);
      known[q] = 1;
      taken.push(q);
      for (let i = neighbours.offsets[q]; i < neighbours.offsets[q + 1]; i++) {
        const w = neighbours.items[i];
        if (known[w] === 1) continue;
        const d = reach[q] + this.distance(q, w);
        if (d >= reach[w] || d > radius) continue;
        if (reach[w] === Infinity) touched.push(w);
        reach[w] = d;
        this.push(heap, w);
      }
    }
    const flat = new Float64Array(2 * taken.length);
    taken.forEach((q, i) => {
      flat[2 * i] = u[q];
      flat[2 * i + 1] = v[q];
    });
    for (const q of touched) {
      reach[q] = Infinity;
      known[q] = 0;
    }
    return { vertices: Uint32Array.from(taken), flat };
  }

  private startAxis(centre: number): void {
    const n = this.normals.subarray(3 * centre, 3 * centre + 3);
    const k = Math.abs(n[0]) < 0.8 ? 0 : 1;
    const axis = [-n[k] * n[0], -n[k] * n[1], -n[k] * n[2]];
    axis[k] += 1;
    const length = Math.hypot(axis[0], axis[1], axis[2]);
    for (let j = 0; j < 3; j++) this.axis[3 * centre + j] = axis[j] / length;
    this.u[centre] = 0;
    this.v[centre] = 0;
  }

  /** Places q by its known neighbours, nearer ones counting more, and carries their axes to it. */
  private place(q: number): void {
    const { mesh, neighbours, normals: n, known, axis } = this;
    const p = mesh.positions;
    let su = 0;
    let sv = 0;
    let sw = 0;
    let ax = 0;
    let ay = 0;
    let az = 0;
    for (let i = neighbours.offsets[q]; i < neighbours.offsets[q + 1]; i++) {
      const o = neighbours.items[i];
      if (known[o] === 0) continue;
      let dx = p[3 * q] - p[3 * o];
      let dy = p[3 * q + 1] - p[3 * o + 1];
      let dz = p[3 * q + 2] - p[3 * o + 2];
      const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
      const lift = dx * n[3 * o] + dy * n[3 * o + 1] + dz * n[3 * o + 2];
      dx -= lift * n[3 * o];
      dy -= lift * n[3 * o + 1];
      dz -= lift * n[3 * o + 2];
      const flatLength = Math.sqrt(dx * dx + dy * dy + dz * dz);
      if (flatLength === 0 || length === 0) continue;
      const scale = length / flatLength;
      const ex = axis[3 * o];
      const ey = axis[3 * o + 1];
      const ez = axis[3 * o + 2];
      const fx = n[3 * o + 1] * ez - n[3 * o + 2] * ey;
      const fy = n[3 * o + 2] * ex - n[3 * o] * ez;
      const fz = n[3 * o] * ey - n[3 * o + 1] * ex;
      const weight = 1 / length;
      su += weight * (this.u[o] + scale * (dx * ex + dy * ey + dz * ez));
      sv += weight * (this.v[o] + scale * (dx * fx + dy * fy + dz * fz));
      sw += weight;
      ax += weight * ex;
      ay += weight * ey;
      az += weight * ez;
    }
    this.u[q] = su / sw;
    this.v[q] = sv / sw;
    const lean = ax * n[3 * q] + ay * n[3 * q + 1] + az * n[3 * q + 2];
    ax -= lean * n[3 * q];
    ay -= lean * n[3 * q + 1];
    az -= lean * n[3 * q + 2];
    const length = length3(ax, ay, az) || 1;
    axis[3 * q] = ax / length;
    axis[3 * q + 1] = ay / length;
    axis[3 * q + 2] = az / length;
  }

  private distance(a: number, b: number): number {
    const p = this.mesh.positions;
    const x = p[3 * a] - p[3 * b];
    const y = p[3 * a + 1] - p[3 * b + 1];
    const z = p[3 * a + 2] - p[3 * b + 2];
    return Math.sqrt(x * x + y * y + z * z);
  }

  private push(heap: number[], item: number): void {
    const { reach } = this;
    let i = heap.length;
    heap.push(item);
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (reach[heap[up]] <= reach[item]) break;
      heap[i] = heap[up];
      i = up;
    }
    heap[i] = item;
  }

  private pop(heap: number[]): number {
    const { reach } = this;
    const top = heap[0];
    const item = heap.pop() as number;
    if (heap.length === 0) return top;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && reach[heap[child + 1]] < reach[heap[child]]) child++;
      if (reach[heap[child]] >= reach[item]) break;
      heap[i] = heap[child];
      i = child;
    }
    heap[i] = item;
    return top;
  }
}
