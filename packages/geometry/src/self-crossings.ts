import type { Mesh } from './mesh.js';
import { triangleCount } from './mesh.js';
import { meanEdgeLength } from './quantities.js';
import { trianglesCross } from './triangles-cross.js';

/** Edge of a cell of the grid over the mean length of the edges. */
const CELL = 2;

/**
 * The triangles that cross another one, one byte each. Those of `among` lie in a hash grid and all others pass by it: near
 * linear where the edges are of about one length.
 *
 * @param among one byte a triangle: crossings are sought between these and all others; all where absent
 */
export function selfCrossings(mesh: Mesh, among?: Uint8Array): Uint8Array {
  const count = triangleCount(mesh);
  const crossing = new Uint8Array(count);
  if (count === 0 || among?.includes(1) === false) return crossing;
  const { positions: p, triangles } = mesh;
  const grid = new TriangleGrid(mesh, CELL * meanEdgeLength(mesh), among);
  const seenBy = new Int32Array(count).fill(-1);
  for (let t = 0; t < count; t++) {
    if (!grid.reaches(t)) continue;
    grid.walkFrom(t);
    for (let s = grid.next(); s >= 0; s = grid.next()) {
      // A pair of which both are asked comes twice; the first time counts.
      if (seenBy[s] === t || s === t || (s < t && among?.[t] !== 0)) continue;
      seenBy[s] = t;
      if (!grid.boxesMeet(s, t) || !trianglesCross(p, triangles, t, s)) continue;
      crossing[s] = 1;
      crossing[t] = 1;
    }
  }
  return crossing;
}

class TriangleGrid {
  private readonly box: Float64Array;
  private readonly cell: number;
  private readonly mask: number;
  /** Where the triangles of each bucket begin among `held`; those of the last one end where `held` does. */
  private readonly first: Int32Array;
  private readonly held: Int32Array;
  /** Least and greatest x, y, z of all triangles that are held. */
  private readonly reach = Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity);
  /** Cells that the present walk passes, and where it is. */
  private readonly range = new Int32Array(6);
  private readonly at = new Int32Array(3);
  private entry = 0;
  private end = 0;
  private walking = false;

  constructor({ positions: p, triangles }: Mesh, cell: number, among?: Uint8Array) {
    const count = triangles.length / 3;
    this.cell = cell > 0 ? cell : 1;
    this.box = new Float64Array(6 * count);
    for (let t = 0; t < count; t++) {
      for (let k = 0; k < 3; k++) {
        const a = p[3 * triangles[3 * t] + k];
        const b = p[3 * triangles[3 * t + 1] + k];
        const c = p[3 * triangles[3 * t + 2] + k];
        this.box[6 * t + k] = a < b ? (a < c ? a : c) : b < c ? b : c;
        this.box[6 * t + 3 + k] = a > b ? (a > c ? a : c) : b > c ? b : c;
      }
    }
    let size = 0;
    for (let t = 0; t < count; t++) {
      if (among?.[t] === 0) continue;
      for (let k = 0; k < 3; k++) {
        this.reach[k] = Math.min(this.reach[k], this.box[6 * t + k]);
        this.reach[3 + k] = Math.max(this.reach[3 + k], this.box[6 * t + 3 + k]);
      }
      size += this.start(t);
    }
    // As many buckets as entries at least: a few triangles that are long for the cells pass very many of them.
    this.mask = 2 ** Math.ceil(Math.log2(size + 16)) - 1;
    this.first = new Int32Array(this.mask + 2);
    this.held = new Int32Array(size);
    for (let t = 0; t < count; t++) {
      if (among?.[t] === 0) continue;
      this.start(t);
      for (let bucket = this.bucket(); bucket >= 0; bucket = this.bucket()) this.first[bucket]++;
    }
    // The ends of the buckets, which are then filled backwards down to where they begin.
    for (let bucket = 1; bucket <= this.mask + 1; bucket++) this.first[bucket] += this.first[bucket - 1];
    for (let t = count - 1; t >= 0; t--) {
      if (among?.[t] === 0) continue;
      this.start(t);
      for (let bucket = this.bucket(); bucket >= 0; bucket = this.bucket()) this.held[--this.first[bucket]] = t;
    }
  }

  /** Whether the box of `t` meets that of all triangles that are held. */
  reaches(t: number): boolean {
    const { box, reach } = this;
    for (let k = 0; k < 3; k++) if (box[6 * t + k] > reach[3 + k] || box[6 * t + 3 + k] < reach[k]) return false;
    return true;
  }

  /** Begins to go through the triangles in the buckets that `t` passes; some come more than once, and itself too. */
  walkFrom(t: number): void {
    this.start(t);
    this.entry = this.end = 0;
  }

  /** The next triangle of the walk; −1 at its end. */
  next(): number {
    while (this.entry === this.end) {
      const bucket = this.bucket();
      if (bucket < 0) return -1;
      this.entry = this.first[bucket];
      this.end = this.first[bucket + 1];
    }
    return this.held[this.entry++];
  }

  boxesMeet(s: number, t: number): boolean {
    const { box } = this;
    for (let k = 0; k < 3; k++) {
      if (box[6 * s + k] > box[6 * t + 3 + k] || box[6 * t + k] > box[6 * s + 3 + k]) return false;
    }
    return true;
  }

  /** Begins to go through the cells that the box of `t` passes; how many they are. */
  private start(t: number): number {
    const { range, at } = this;
    for (let k = 0; k < 6; k++) range[k] = Math.floor(this.box[6 * t + k] / this.cell);
    for (let k = 0; k < 3; k++) at[k] = range[k];
    this.walking = true;
    return (range[3] - range[0] + 1) * (range[4] - range[1] + 1) * (range[5] - range[2] + 1);
  }

  /** The bucket of the present cell, stepping on to the next one; −1 past the last. */
  private bucket(): number {
    if (!this.walking) return -1;
    const { at, range } = this;
    const found = (Math.imul(at[0], 73856093) ^ Math.imul(at[1], 19349663) ^ Math.imul(at[2], 83492791)) & this.mask;
    if (++at[2] > range[5]) {
      at[2] = range[2];
      if (++at[1] > range[4]) {
        at[1] = range[1];
        if (++at[0] > range[3]) this.walking = false;
      }
    }
    return found;
  }
}
