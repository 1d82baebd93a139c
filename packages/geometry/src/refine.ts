import { nextHalfedge, previousHalfedge } from './topology.js';

/**
 * Refines a triangulated disc: edges longer than the size wanted at their middle are split, and edges are flipped until
 * they are Delaunay. The wanted size is that of the rim nearby, even for some rows, then growing inward, so that a large
 * hole costs triangles by the length of its rim and not by its area (after P. Liepa, SGP 2003, with grading).
 */
export const REFINE_DEFAULTS = {
  /** Edges longer than this times the wanted size are split. */
  split: 4 / 3,
  /** Rows along the rim that keep the rim's size. */
  evenRows: 8,
  /** Growth of the wanted size per length beyond them. */
  grading: 0.25,
  /** Largest wanted size, mesh unit (mm). */
  largest: 5,
  /** Rounds of splitting; each halves the longest edges. */
  rounds: 24,
  /** Sweeps that move inner vertices to the middle of their neighbours, after each round. */
  relaxations: 3,
} as const;

export interface Disc {
  /** x, y, z of each vertex: first the rim, then the inner ones. */
  readonly points: Float64Array;
  readonly triangles: Uint32Array;
}

/**
 * @param disc the vertices of the rim (3 × rim) and triangles between them, all turned the same way
 * @param sizes the wanted edge length at each rim vertex
 * @param plane axes u, v, normal (9 numbers) where the disc is flat enough to be judged by its shadow, else null
 */
export function refine(disc: Disc, sizes: Float64Array, plane: Float64Array | null): Disc {
  const work = new Work(disc, sizes, plane);
  work.delaunay();
  for (let round = 0; round < REFINE_DEFAULTS.rounds; round++) {
    if (work.splitLong() === 0) break;
    work.delaunay();
    for (let i = 0; i < REFINE_DEFAULTS.relaxations; i++) work.relax();
    work.delaunay();
  }
  return work.result();
}

class Work {
  private p: Float64Array;
  private tri: Uint32Array;
  private twin: Int32Array;
  private size: Float64Array;
  private depth: Float64Array;
  private vertices: number;
  private triangles: number;
  private readonly rim: number;
  private readonly plane: Float64Array | null;
  private stack: number[] = [];

  constructor(disc: Disc, sizes: Float64Array, plane: Float64Array | null) {
    this.rim = disc.points.length / 3;
    this.vertices = this.rim;
    this.triangles = disc.triangles.length / 3;
    this.p = disc.points.slice();
    this.tri = disc.triangles.slice();
    this.plane = plane;
    this.size = sizes.slice();
    this.depth = new Float64Array(this.rim);
    this.twin = new Int32Array(this.tri.length).fill(-1);
    const first = new Map<number, number>();
    for (let h = 0; h < this.tri.length; h++) {
      const a = this.tri[h];
      const b = this.tri[nextHalfedge(h)];
      const key = Math.min(a, b) * this.rim + Math.max(a, b);
      const g = first.get(key);
      if (g === undefined) first.set(key, h);
      else {
        this.twin[h] = g;
        this.twin[g] = h;
      }
    }
  }

  result(): Disc {
    return { points: this.p.slice(0, 3 * this.vertices), triangles: this.tri.slice(0, 3 * this.triangles) };
  }

  /** Splits every inner edge that is too long now; the number of splits. */
  splitLong(): number {
    let splits = 0;
    const edges: { h: number; length: number }[] = [];
    for (let h = 0; h < 3 * this.triangles; h++) {
      if (this.twin[h] < h) continue;
      const length = this.excess(h);
      if (length > 1) edges.push({ h, length });
    }
    edges.sort((a, b) => b.length - a.length || a.h - b.h);
    const touched = new Uint8Array(this.triangles);
    for (const { h } of edges) {
      const t = (h / 3) | 0;
      const s = (this.twin[h] / 3) | 0;
      if (touched[t] || touched[s]) continue;
      touched[t] = 1;
      touched[s] = 1;
      this.split(h);
      splits++;
    }
    return splits;
  }

  /** Length of an inner edge over the longest allowed there. */
  private excess(h: number): number {
    const a = this.tri[h];
    const b = this.tri[nextHalfedge(h)];
    const length = this.distance(a, b);
    const [size, depth] = this.wantedAtMiddle(h, length);
    return length / (REFINE_DEFAULTS.split * this.wanted(size, depth));
  }

  private wanted(size: number, depth: number): number {
    const grown = size + REFINE_DEFAULTS.grading * Math.max(0, depth - REFINE_DEFAULTS.evenRows * size);
    return Math.max(size, Math.min(grown, REFINE_DEFAULTS.largest));
  }

  /** Rim size and distance to the rim at the middle of an edge, by way of the nearest of the four vertices around. */
  private wantedAtMiddle(h: number, length: number): [number, number] {
    const ends = [this.tri[h], this.tri[nextHalfedge(h)]];
    const apexes = [this.tri[previousHalfedge(h)], this.tri[previousHalfedge(this.twin[h])]];
    let size = 0;
    let depth = Infinity;
    for (const v of ends) {
      size += this.size[v] / 2;
      depth = Math.min(depth, this.depth[v] + length / 2);
    }
    for (const v of apexes) {
      const far = Math.hypot(...[0, 1, 2].map((k) => this.p[3 * v + k] - (this.p[3 * ends[0] + k] + this.p[3 * ends[1] + k]) / 2));
      depth = Math.min(depth, this.depth[v] + far);
    }
    return [size, depth];
  }

  private distance(a: number, b: number): number {
    return Math.hypot(this.p[3 * a] - this.p[3 * b], this.p[3 * a + 1] - this.p[3 * b + 1], this.p[3 * a + 2] - this.p[3 * b + 2]);
  }

  private grow(): void {
    const wider = <T extends Float64Array | Uint32Array | Int32Array>(old: T, fresh: T): T => {
      fresh.set(old);
      return fresh;
    };
    if (3 * (this.vertices + 1) > this.p.length) {
      this.p = wider(this.p, new Float64Array(2 * this.p.length + 96));
      this.size = wider(this.size, new Float64Array(2 * this.size.length + 32));
      this.depth = wider(this.depth, new Float64Array(2 * this.depth.length + 32));
    }
    if (3 * (this.triangles + 2) > this.tri.length) {
      this.tri = wider(this.tri, new Uint32Array(2 * this.tri.length + 96));
      this.twin = wider(this.twin, new Int32Array(2 * this.twin.length + 96));
    }
  }

  private link(h: number, g: number): void {
    this.twin[h] = g;
    if (g >= 0) this.twin[g] = h;
  }

  /** Puts a vertex on the middle of an inner edge; its two triangles become four. */
  private split(h: number): void {
    this.grow();
    const g = this.twin[h];
    const [size, depth] = this.wantedAtMiddle(h, this.distance(this.tri[h], this.tri[nextHalfedge(h)]));
    const [h1, h2, g1, g2] = [nextHalfedge(h), previousHalfedge(h), nextHalfedge(g), previousHalfedge(g)];
    const [a, b, c, d] = [this.tri[h], this.tri[h1], this.tri[h2], this.tri[g2]];
    const m = this.vertices++;
    for (let k = 0; k < 3; k++) this.p[3 * m + k] = (this.p[3 * a + k] + this.p[3 * b + k]) / 2;
    this.size[m] = size;
    this.depth[m] = depth;
    const n1 = 3 * this.triangles++;
    const n2 = 3 * this.triangles++;
    this.tri[h1] = m;
    this.tri[g] = m;
    this.tri.set([m, b, c], n1);
    this.tri.set([b, m, d], n2);
    this.link(n1 + 1, this.twin[h1]);
    this.link(n2 + 2, this.twin[g2]);
    this.link(h1, n1 + 2);
    this.link(n1, n2);
    this.link(g2, n2 + 1);
    this.link(h, g);
    this.tri[g2] = d;
    this.stack.push(h, h1, h2, g, g1, g2, n1, n1 + 1, n1 + 2, n2, n2 + 1, n2 + 2);
  }

  /** Flips inner edges until each has opposite angles of at most 180° together. */
  delaunay(): void {
    if (this.stack.length === 0) for (let h = 0; h < 3 * this.triangles; h++) this.stack.push(h);
    let budget = 60 * this.triangles + 1000;
    for (let h = this.stack.pop(); h !== undefined; h = this.stack.pop()) {
      const g = this.twin[h];
      if (g < 0 || budget-- < 0) continue;
      if (this.cotangent(h) + this.cotangent(g) >= -1e-7 || !this.flip(h)) continue;
      const t = h - (h % 3);
      const s = g - (g % 3);
      this.stack.push(t, t + 1, t + 2, s, s + 1, s + 2);
    }
    this.stack.length = 0;
  }

  /** Cotangent of the angle opposite a halfedge; in the plane where there is one. */
  private cotangent(h: number): number {
    const [a, b, c] = [this.tri[h], this.tri[nextHalfedge(h)], this.tri[previousHalfedge(h)]];
    const u = this.between(c, a);
    const v = this.between(c, b);
    const cross = this.plane ? u[0] * v[1] - u[1] * v[0] : Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
    const dot = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    return cross > 1e-300 ? dot / cross : dot < 0 ? -1e9 : 1e9;
  }

  private between(a: number, b: number): number[] {
    const d = [0, 1, 2].map((k) => this.p[3 * b + k] - this.p[3 * a + k]);
    const w = this.plane;
    return w ? [w[0] * d[0] + w[1] * d[1] + w[2] * d[2], w[3] * d[0] + w[4] * d[1] + w[5] * d[2], 0] : d;
  }

  /** Turns the edge inside its two triangles, unless that would fold the surface or repeat an edge. */
  private flip(h: number): boolean {
    const g = this.twin[h];
    const [h1, h2, g1, g2] = [nextHalfedge(h), previousHalfedge(h), nextHalfedge(g), previousHalfedge(g)];
    const [a, b, c, d] = [this.tri[h], this.tri[h1], this.tri[h2], this.tri[g2]];
    if (c === d || this.joined(h2, d) || this.folds(a, b, c, d)) return false;
    const [bc, ad] = [this.twin[h1], this.twin[g1]];
    this.tri[h1] = d;
    this.tri[g1] = c;
    this.link(h, ad);
    this.link(g, bc);
    this.link(h1, g1);
    return true;
  }

  /** Whether the vertex at the start of halfedge `h` has an edge to `other`. */
  private joined(h: number, other: number): boolean {
    let e = h;
    do {
      if (this.tri[nextHalfedge(e)] === other || this.tri[previousHalfedge(e)] === other) return true;
      e = this.twin[previousHalfedge(e)];
    } while (e >= 0 && e !== h);
    if (e >= 0) return false;
    for (e = this.twin[h]; e >= 0; e = this.twin[e]) {
      e = nextHalfedge(e);
      if (this.tri[nextHalfedge(e)] === other || this.tri[previousHalfedge(e)] === other) return true;
    }
    return false;
  }

  private folds(a: number, b: number, c: number, d: number): boolean {
    const before = this.normal(a, b, c).map((x, k) => x + this.normal(b, a, d)[k]);
    const forward = (n: number[]): number => n[0] * before[0] + n[1] * before[1] + n[2] * before[2];
    if (this.plane) return this.normal(a, d, c)[2] <= 0 || this.normal(d, b, c)[2] <= 0;
    return forward(this.normal(a, d, c)) <= 0 || forward(this.normal(d, b, c)) <= 0;
  }

  private normal(a: number, b: number, c: number): number[] {
    const u = this.between(a, b);
    const v = this.between(a, c);
    return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  }

  /** Moves each inner vertex half-way to the middle of its neighbours. */
  relax(): void {
    const sum = new Float64Array(4 * this.vertices);
    for (let h = 0; h < 3 * this.triangles; h++) {
      const a = this.tri[h];
      const b = this.tri[nextHalfedge(h)];
      if (a < this.rim) continue;
      for (let k = 0; k < 3; k++) sum[4 * a + k] += this.p[3 * b + k];
      sum[4 * a + 3]++;
    }
    for (let v = this.rim; v < this.vertices; v++) {
      for (let k = 0; k < 3; k++) this.p[3 * v + k] += (sum[4 * v + k] / sum[4 * v + 3] - this.p[3 * v + k]) / 2;
    }
  }
}
