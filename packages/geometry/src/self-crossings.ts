import type { Mesh } from './mesh.js';
import { triangleCount } from './mesh.js';
import { meanEdgeLength } from './quantities.js';
import { trianglesCross } from './triangles-cross.js';

/** Edge of a cell of the grid over the mean length of the edges. */
const CELL = 2;

/**
 * The triangles that cross another one, one byte each. Triangles lie in a hash grid; near linear where the edges are of
 * about one length.
 *
 * @param among one byte a triangle: crossings are sought between these and all others; all where absent
 */
export function selfCrossings(mesh: Mesh, among?: Uint8Array): Uint8Array {
  const { positions: p, triangles } = mesh;
  const count = triangleCount(mesh);
  const crossing = new Uint8Array(count);
  const grid = new TriangleGrid(mesh, CELL * meanEdgeLength(mesh));
  const seenBy = new Int32Array(count).fill(-1);
  const corners = (t: number): [number, number, number] => [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]];
  for (let t = 0; t < count; t++) {
    if (among && among[t] === 0) continue;
    const own = corners(t);
    seenBy[t] = t;
    grid.near(t, (s) => {
      if (seenBy[s] === t) return;
      seenBy[s] = t;
      if ((s < t && !(among && among[s] === 0)) || !grid.boxesMeet(s, t)) return;
      if (!trianglesCross(p, own, corners(s))) return;
      crossing[s] = 1;
      crossing[t] = 1;
    });
  }
  return crossing;
}

class TriangleGrid {
  private readonly box: Float64Array;
  private readonly cell: number;
  private readonly mask: number;
  private readonly head: Int32Array;
  private next: Int32Array;
  private held: Int32Array;

  constructor({ positions: p, triangles }: Mesh, cell: number) {
    const count = triangles.length / 3;
    this.cell = cell > 0 ? cell : 1;
    this.box = new Float64Array(6 * count);
    for (let t = 0; t < count; t++) {
      for (let k = 0; k < 3; k++) {
        const [a, b, c] = [p[3 * triangles[3 * t] + k], p[3 * triangles[3 * t + 1] + k], p[3 * triangles[3 * t + 2] + k]];
        this.box[6 * t + k] = Math.min(a, b, c);
        this.box[6 * t + 3 + k] = Math.max(a, b, c);
      }
    }
    this.mask = 2 ** Math.ceil(Math.log2(4 * count + 16)) - 1;
    this.head = new Int32Array(this.mask + 1).fill(-1);
    this.next = new Int32Array(4 * count + 16);
    this.held = new Int32Array(this.next.length);
    let size = 0;
    for (let t = 0; t < count; t++) {
      this.cells(t, (bucket) => {
        if (size === this.next.length) {
          this.next = longer(this.next);
          this.held = longer(this.held);
        }
        this.held[size] = t;
        this.next[size] = this.head[bucket];
        this.head[bucket] = size++;
      });
    }
  }

  /** Calls with each triangle, itself too, that shares a bucket with `t`; some come more than once. */
  near(t: number, take: (s: number) => void): void {
    this.cells(t, (bucket) => {
      for (let i = this.head[bucket]; i >= 0; i = this.next[i]) take(this.held[i]);
    });
  }

  boxesMeet(s: number, t: number): boolean {
    const { box } = this;
    for (let k = 0; k < 3; k++) {
      if (box[6 * s + k] > box[6 * t + 3 + k] || box[6 * t + k] > box[6 * s + 3 + k]) return false;
    }
    return true;
  }

  private cells(t: number, take: (bucket: number) => void): void {
    const { box, cell } = this;
    const at = (i: number): number => Math.floor(box[6 * t + i] / cell);
    const [x0, y0, z0, x1, y1, z1] = [at(0), at(1), at(2), at(3), at(4), at(5)];
    for (let x = x0; x <= x1; x++) {
      for (let y = y0; y <= y1; y++) {
        for (let z = z0; z <= z1; z++) take((Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791)) & this.mask);
      }
    }
  }
}

function longer(array: Int32Array): Int32Array<ArrayBuffer> {
  const out = new Int32Array(2 * array.length);
  out.set(array);
  return out;
}
