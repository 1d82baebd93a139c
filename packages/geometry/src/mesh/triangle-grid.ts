import type { Mesh } from './mesh.js';

/** Triangles in a hash grid by the boxes round them. */
export class TriangleGrid {
  /** What `near` found last: its first places hold. */
  found = new Int32Array(64);
  private readonly boxes: Float64Array;
  private readonly cell: number;
  private readonly mask: number;
  /** Where the triangles of each bucket begin among `held`, ascending; those of the last one end where `held` does. */
  private readonly first: Int32Array;
  private readonly held: Int32Array;
  /** The last triangle that was asked about each one. */
  private readonly seenBy: Int32Array;
  /** Least and greatest x, y, z of all triangles that are held. */
  private readonly reach = Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity);

  /**
   * @param cell edge of a cell, in the mesh's unit
   * @param among one byte a triangle: only these are held; all where absent
   */
  constructor(mesh: Mesh, cell: number, among?: Uint8Array) {
    this.cell = cell > 0 ? cell : 1;
    this.boxes = boxesOf(mesh);
    this.seenBy = new Int32Array(this.boxes.length / 6).fill(-1);
    // As many buckets as entries at least: a few triangles that are long for the cells pass very many of them.
    const size = this.entries(among);
    this.mask = 2 ** Math.ceil(Math.log2(size + 16)) - 1;
    this.first = new Int32Array(this.mask + 2);
    this.held = new Int32Array(size);
    this.fill(among);
  }

  /**
   * How many of the triangles that are held have a box that meets the one of `t`, itself left out; they stand in `found`.
   *
   * @param below only triangles of lower numbers than this
   */
  near(t: number, below: number): number {
    const { boxes, cell, mask, first, held, seenBy, reach } = this;
    const x0 = boxes[6 * t];
    const y0 = boxes[6 * t + 1];
    const z0 = boxes[6 * t + 2];
    const x1 = boxes[6 * t + 3];
    const y1 = boxes[6 * t + 4];
    const z1 = boxes[6 * t + 5];
    if (x0 > reach[3] || y0 > reach[4] || z0 > reach[5] || x1 < reach[0] || y1 < reach[1] || z1 < reach[2]) return 0;
    let count = 0;
    const i1 = Math.floor(x1 / cell);
    const j1 = Math.floor(y1 / cell);
    const k0 = Math.floor(z0 / cell);
    const k1 = Math.floor(z1 / cell);
    for (let i = Math.floor(x0 / cell); i <= i1; i++) {
      for (let j = Math.floor(y0 / cell); j <= j1; j++) {
        const row = rowHash(i, j);
        for (let k = k0; k <= k1; k++) {
          const bucket = (row + k) & mask;
          const end = first[bucket + 1];
          for (let at = first[bucket]; at < end; at++) {
            const s = held[at];
            if (s >= below) break;
            const b = 6 * s;
            if (x1 < boxes[b] || x0 > boxes[b + 3] || y1 < boxes[b + 1] || y0 > boxes[b + 4] || z1 < boxes[b + 2] || z0 > boxes[b + 5]) continue;
            if (seenBy[s] === t || s === t) continue;
            seenBy[s] = t;
            if (count === this.found.length) this.grow();
            this.found[count++] = s;
          }
        }
      }
    }
    return count;
  }

  private grow(): void {
    const more = new Int32Array(2 * this.found.length);
    more.set(this.found);
    this.found = more;
  }

  /** How many places the held triangles take in all cells; `reach` is set on the way. */
  private entries(among?: Uint8Array): number {
    const { boxes, cell, reach } = this;
    let size = 0;
    for (let t = 0, b = 0; b < boxes.length; t++, b += 6) {
      if (among?.[t] === 0) continue;
      let cells = 1;
      for (let k = 0; k < 3; k++) {
        const low = boxes[b + k];
        const high = boxes[b + 3 + k];
        if (low < reach[k]) reach[k] = low;
        if (high > reach[3 + k]) reach[3 + k] = high;
        cells *= Math.floor(high / cell) - Math.floor(low / cell) + 1;
      }
      size += cells;
    }
    return size;
  }

  private fill(among?: Uint8Array): void {
    const { boxes, cell, mask, first, held } = this;
    // The ends of the buckets are counted first; these are then filled backwards down to where they begin.
    for (const filling of [false, true]) {
      for (let t = boxes.length / 6 - 1; t >= 0; t--) {
        if (among?.[t] === 0) continue;
        const b = 6 * t;
        const i1 = Math.floor(boxes[b + 3] / cell);
        const j1 = Math.floor(boxes[b + 4] / cell);
        const k1 = Math.floor(boxes[b + 5] / cell);
        for (let i = Math.floor(boxes[b] / cell); i <= i1; i++) {
          for (let j = Math.floor(boxes[b + 1] / cell); j <= j1; j++) {
            const row = rowHash(i, j);
            for (let k = Math.floor(boxes[b + 2] / cell); k <= k1; k++) {
              const bucket = (row + k) & mask;
              if (filling) held[--first[bucket]] = t;
              else first[bucket]++;
            }
          }
        }
      }
      if (!filling) for (let bucket = 1; bucket < first.length; bucket++) first[bucket] += first[bucket - 1];
    }
  }
}

/** Cells over each other lie in buckets beside each other. */
const rowHash = (i: number, j: number): number => Math.imul(i, 73856093) ^ Math.imul(j, 19349663);

/** Least and greatest x, y, z of each triangle. */
function boxesOf({ positions: p, triangles }: Mesh): Float64Array {
  const boxes = new Float64Array(2 * triangles.length);
  for (let t = 0; 3 * t < triangles.length; t++) {
    for (let k = 0; k < 3; k++) {
      const a = p[3 * triangles[3 * t] + k];
      const b = p[3 * triangles[3 * t + 1] + k];
      const c = p[3 * triangles[3 * t + 2] + k];
      boxes[6 * t + k] = a < b ? (a < c ? a : c) : b < c ? b : c;
      boxes[6 * t + 3 + k] = a > b ? (a > c ? a : c) : b > c ? b : c;
    }
  }
  return boxes;
}
