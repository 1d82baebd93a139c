import { nextHalfedge, previousHalfedge } from '../mesh/topology.js';

/**
 * A triangulated disc that grows: edges are split at their middle or flipped. In a flat disc all points have z = 0 and
 * what is judged (angles, folds) is judged in the plane; otherwise in space. Each vertex carries a height beside its point.
 */
export class Disc {
  /** x, y, z of each vertex; the first ones are the rim's. */
  points: Float64Array;
  height: Float64Array;
  triangles: Uint32Array;
  twin: Int32Array;
  vertexCount: number;
  triangleCount: number;
  readonly rim: number;
  readonly flat: boolean;
  private readonly outside: (a: number, b: number) => boolean;

  /**
   * `triangles` join the rim's vertices into a disc, all turned the same way (to the left in a flat disc); `outside` says
   * whether an edge outside the disc joins two of its rim's vertices.
   */
  constructor(
    points: Float64Array,
    height: Float64Array,
    triangles: Uint32Array,
    flat: boolean,
    outside: (a: number, b: number) => boolean,
  ) {
    this.outside = outside;
    this.rim = points.length / 3;
    this.vertexCount = this.rim;
    this.triangleCount = triangles.length / 3;
    this.points = points.slice();
    this.height = height.slice();
    this.triangles = triangles.slice();
    this.flat = flat;
    this.twin = new Int32Array(triangles.length).fill(-1);
    const first = new Map<number, number>();
    for (let h = 0; h < triangles.length; h++) {
      const a = triangles[h];
      const b = triangles[nextHalfedge(h)];
      const key = Math.min(a, b) * this.rim + Math.max(a, b);
      const g = first.get(key);
      if (g === undefined) first.set(key, h);
      else this.link(h, g);
    }
  }

  start(h: number): number {
    return this.triangles[h];
  }

  end(h: number): number {
    return this.triangles[nextHalfedge(h)];
  }

  apex(h: number): number {
    return this.triangles[previousHalfedge(h)];
  }

  distance(a: number, b: number): number {
    const p = this.points;
    const x = p[3 * a] - p[3 * b];
    const y = p[3 * a + 1] - p[3 * b + 1];
    const z = p[3 * a + 2] - p[3 * b + 2];
    return Math.sqrt(x * x + y * y + z * z);
  }

  /** Puts a vertex on the middle of an inner edge; its two triangles become four, the last two of them new. Gives the vertex. */
  split(h: number): number {
    this.grow();
    const { points: p, triangles: t, twin } = this;
    const g = twin[h];
    const h1 = nextHalfedge(h);
    const h2 = previousHalfedge(h);
    const g1 = nextHalfedge(g);
    const g2 = previousHalfedge(g);
    const a = t[h];
    const b = t[h1];
    const c = t[h2];
    const d = t[g2];
    const m = this.vertexCount++;
    for (let k = 0; k < 3; k++) p[3 * m + k] = (p[3 * a + k] + p[3 * b + k]) / 2;
    this.height[m] = (this.height[a] + this.height[b]) / 2;
    const n1 = 3 * this.triangleCount++;
    const n2 = 3 * this.triangleCount++;
    t[h1] = m;
    t[g] = m;
    t[n1] = m;
    t[n1 + 1] = b;
    t[n1 + 2] = c;
    t[n2] = b;
    t[n2 + 1] = m;
    t[n2 + 2] = d;
    const bc = twin[h1];
    const db = twin[g2];
    this.link(n1 + 1, bc);
    this.link(n2 + 2, db);
    this.link(h1, n1 + 2);
    this.link(n1, n2);
    this.link(g2, n2 + 1);
    this.link(g1, twin[g1]);
    return m;
  }

  /** Turns an inner edge inside its two triangles; false, and nothing done, where that would fold the disc or repeat an edge. */
  flip(h: number): boolean {
    const { triangles: t, twin } = this;
    const g = twin[h];
    const h1 = nextHalfedge(h);
    const h2 = previousHalfedge(h);
    const g1 = nextHalfedge(g);
    const g2 = previousHalfedge(g);
    const a = t[h];
    const b = t[h1];
    const c = t[h2];
    const d = t[g2];
    if (c < this.rim && d < this.rim && this.outside(c, d)) return false;
    if (c === d || this.joined(h2, d) || this.folds(a, b, c, d)) return false;
    const bc = twin[h1];
    const ad = twin[g1];
    t[h1] = d;
    t[g1] = c;
    this.link(h, ad);
    this.link(g, bc);
    this.link(h1, g1);
    return true;
  }

  /** Cotangent of the angle opposite a halfedge; of a turned-over triangle of a flat disc the negative. */
  cotangent(h: number): number {
    const p = this.points;
    const a = 3 * this.start(h);
    const b = 3 * this.end(h);
    const c = 3 * this.apex(h);
    const ux = p[a] - p[c], uy = p[a + 1] - p[c + 1], uz = p[a + 2] - p[c + 2];
    const vx = p[b] - p[c], vy = p[b + 1] - p[c + 1], vz = p[b + 2] - p[c + 2];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const cross = this.flat ? z : Math.sqrt(x * x + y * y + z * z);
    const dot = ux * vx + uy * vy + uz * vz;
    return Math.abs(cross) > 1e-300 ? dot / cross : dot < 0 ? -1e9 : 1e9;
  }

  private link(h: number, g: number): void {
    this.twin[h] = g;
    if (g >= 0) this.twin[g] = h;
  }

  /** Whether the vertex at the start of halfedge `h` has an edge to `other`. */
  private joined(h: number, other: number): boolean {
    for (let e = h; ; ) {
      if (this.end(e) === other || this.apex(e) === other) return true;
      e = this.twin[previousHalfedge(e)];
      if (e === h) return false;
      if (e < 0) break;
    }
    for (let e = this.twin[h]; e >= 0; ) {
      const out = nextHalfedge(e);
      if (this.end(out) === other) return true;
      e = this.twin[out];
    }
    return false;
  }

  /** Whether triangles (a, d, c) and (d, b, c) would face away from what (a, b, c) and (b, a, d) face. */
  private folds(a: number, b: number, c: number, d: number): boolean {
    const n = new Float64Array(12);
    this.normal(a, d, c, n, 0);
    this.normal(d, b, c, n, 3);
    if (this.flat) return n[2] <= 0 || n[5] <= 0;
    this.normal(a, b, c, n, 6);
    this.normal(b, a, d, n, 9);
    for (let k = 0; k < 3; k++) n[6 + k] += n[9 + k];
    return n[0] * n[6] + n[1] * n[7] + n[2] * n[8] <= 0 || n[3] * n[6] + n[4] * n[7] + n[5] * n[8] <= 0;
  }

  /** Writes the doubled normal of a triangle. */
  normal(a: number, b: number, c: number, out: Float64Array, at: number): void {
    const p = this.points;
    const ux = p[3 * b] - p[3 * a], uy = p[3 * b + 1] - p[3 * a + 1], uz = p[3 * b + 2] - p[3 * a + 2];
    const vx = p[3 * c] - p[3 * a], vy = p[3 * c + 1] - p[3 * a + 1], vz = p[3 * c + 2] - p[3 * a + 2];
    out[at] = uy * vz - uz * vy;
    out[at + 1] = uz * vx - ux * vz;
    out[at + 2] = ux * vy - uy * vx;
  }

  private grow(): void {
    if (3 * (this.vertexCount + 1) > this.points.length) {
      this.points = extended(this.points, new Float64Array(2 * this.points.length + 96));
      this.height = extended(this.height, new Float64Array(2 * this.height.length + 32));
    }
    if (3 * (this.triangleCount + 2) > this.triangles.length) {
      this.triangles = extended(this.triangles, new Uint32Array(2 * this.triangles.length + 96));
      this.twin = extended(this.twin, new Int32Array(2 * this.twin.length + 96));
    }
  }
}

function extended<T extends Float64Array | Uint32Array | Int32Array>(old: T, fresh: T): T {
  fresh.set(old);
  return fresh;
}
