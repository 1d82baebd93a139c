import type { Mesh } from '../mesh/mesh.js';
import { bounds, triangleCount } from '../mesh/mesh.js';

/** Distance from a closed surface on an even grid, to be read between its nodes. */
export interface DistanceGrid {
  /** minX, minY, minZ, maxX, maxY, maxZ of the grid; it reaches beyond the surface all round. */
  readonly box: Float64Array;
  /** mm between nodes */
  readonly cell: number;
  /** Distance to the surface, mm, inside positive, outside negative; outside the grid that of its nearest point. */
  at(x: number, y: number, z: number): number;
}

/** Empty nodes round the surface. */
const MARGIN = 2;
/** Points of the surface are taken this many to a cell. */
const DENSITY = 2;

/**
 * The distance to a closed, outward surface at the nodes of a grid: to the nearest of points spread over its triangles half
 * a cell apart, handed on from node to node (Danielsson's vector distances, with all 26 neighbours, forth and back twice).
 * At d from the surface it is too great by no more than about cell² / (16 d). Grows with triangles plus nodes.
 *
 * Source: P.-E. Danielsson, Euclidean distance mapping, Computer Graphics and Image Processing 14 (1980).
 */
export function innerDistance(mesh: Mesh, cell: number): DistanceGrid {
  const b = bounds(mesh.positions);
  const origin = [0, 1, 2].map((k) => b[k] - MARGIN * cell);
  const counts = [0, 1, 2].map((k) => Math.ceil((b[k + 3] - b[k]) / cell) + 2 * MARGIN + 1);
  const nearest = new Nearest(origin, counts, cell);
  spreadPoints(mesh, cell / DENSITY, (x, y, z) => nearest.seed(x, y, z));
  for (let round = 0; round < 2; round++) {
    nearest.sweep(1);
    nearest.sweep(-1);
  }
  const values = nearest.distances();
  const inside = insideNodes(mesh, origin, counts, cell);
  for (let i = 0; i < values.length; i++) if (inside[i] === 0) values[i] = -values[i];
  return {
    box: Float64Array.from({ length: 6 }, (_, k) => (k < 3 ? origin[k] : origin[k - 3] + (counts[k - 3] - 1) * cell)),
    cell,
    at: (x, y, z) => between(values, counts, (x - origin[0]) / cell, (y - origin[1]) / cell, (z - origin[2]) / cell),
  };
}

/** For each node the nearest point of the surface that it has heard of. */
class Nearest {
  private readonly origin: readonly number[];
  private readonly counts: readonly number[];
  private readonly cell: number;
  private readonly points: Float32Array;
  private readonly squares: Float32Array;

  constructor(origin: readonly number[], counts: readonly number[], cell: number) {
    this.origin = origin;
    this.counts = counts;
    this.cell = cell;
    const nodes = counts[0] * counts[1] * counts[2];
    this.points = new Float32Array(3 * nodes);
    this.squares = new Float32Array(nodes).fill(Infinity);
  }

  /** Tells the eight nodes round a point of it; everything in cells from the origin. */
  seed(x: number, y: number, z: number): void {
    const u = (x - this.origin[0]) / this.cell;
    const v = (y - this.origin[1]) / this.cell;
    const w = (z - this.origin[2]) / this.cell;
    const i = Math.floor(u);
    const j = Math.floor(v);
    const k = Math.floor(w);
    for (let c = k; c <= k + 1; c++) {
      for (let b = j; b <= j + 1; b++) {
        for (let a = i; a <= i + 1; a++) this.tell((c * this.counts[1] + b) * this.counts[0] + a, a, b, c, u, v, w);
      }
    }
  }

  /** Every node asks the thirteen neighbours before it; `way` −1 goes from the other end. */
  sweep(way: 1 | -1): void {
    const [nx, ny, nz] = this.counts;
    const before: number[] = [];
    const steps: number[] = [];
    for (let c = -1; c <= 0; c++) {
      for (let b = -1; b <= (c < 0 ? 1 : 0); b++) {
        for (let a = -1; a <= (c < 0 || b < 0 ? 1 : -1); a++) {
          before.push(way * ((c * ny + b) * nx + a));
          steps.push(way * a);
        }
      }
    }
    const { points, squares } = this;
    for (let n = 1; n < nz - 1; n++) {
      const z = way > 0 ? n : nz - 1 - n;
      for (let m = 1; m < ny - 1; m++) {
        const y = way > 0 ? m : ny - 1 - m;
        for (let l = 1; l < nx - 1; l++) {
          const x = way > 0 ? l : nx - 1 - l;
          const node = (z * ny + y) * nx + x;
          for (let s = 0; s < before.length; s++) {
            const from = node + before[s];
            if (squares[from] === Infinity) continue;
            this.tell(node, x, y, z, points[3 * from], points[3 * from + 1], points[3 * from + 2]);
          }
        }
      }
    }
  }

  /** mm */
  distances(): Float32Array {
    return this.squares.map((s) => (s === Infinity ? Infinity : Math.sqrt(s) * this.cell));
  }

  private tell(node: number, x: number, y: number, z: number, u: number, v: number, w: number): void {
    const square = (u - x) * (u - x) + (v - y) * (v - y) + (w - z) * (w - z);
    if (square >= this.squares[node]) return;
    this.squares[node] = square;
    this.points[3 * node] = u;
    this.points[3 * node + 1] = v;
    this.points[3 * node + 2] = w;
  }
}

/** Points over every triangle, corners and edges among them, no further apart than `spacing` along its edges. */
function spreadPoints({ positions: p, triangles: t }: Mesh, spacing: number, take: (x: number, y: number, z: number) => void): void {
  const length = (a: number, b: number): number => Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    const n = Math.max(1, Math.ceil(Math.max(length(a, b), length(b, c), length(c, a)) / spacing));
    for (let i = 0; i <= n; i++) {
      for (let j = 0; j <= n - i; j++) {
        const wa = i / n;
        const wb = j / n;
        const wc = (n - i - j) / n;
        take(wa * p[a] + wb * p[b] + wc * p[c], wa * p[a + 1] + wb * p[b + 1] + wc * p[c + 1], wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2]);
      }
    }
  }
}

/** Off the nodes by this share of a cell, so that no line of nodes runs through vertices of meshes made on a grid. */
const OFF_GRID = [0.0137, 0.0071] as const;

/** One byte a node: 1 inside. Counts, up each line of nodes along z, the triangles that it leaves and enters by. */
function insideNodes(mesh: Mesh, origin: readonly number[], [nx, ny, nz]: readonly number[], cell: number): Uint8Array {
  const { positions: p, triangles: t } = mesh;
  const turns = new Int8Array(nx * ny * nz);
  for (let f = 0; f < triangleCount(mesh); f++) {
    const corner = [0, 1, 2].map((k) => {
      const i = 3 * t[3 * f + k];
      return [(p[i] - origin[0]) / cell - OFF_GRID[0], (p[i + 1] - origin[1]) / cell - OFF_GRID[1], (p[i + 2] - origin[2]) / cell];
    });
    const [a, b, c] = corner;
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    if (area === 0) continue;
    const sign = Math.sign(area);
    for (let y = Math.ceil(Math.min(a[1], b[1], c[1])); y <= Math.max(a[1], b[1], c[1]); y++) {
      for (let x = Math.ceil(Math.min(a[0], b[0], c[0])); x <= Math.max(a[0], b[0], c[0]); x++) {
        const wb = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area;
        const wc = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area;
        if (wb < 0 || wc < 0 || wb + wc >= 1) continue;
        const z = Math.ceil(a[2] + wb * (b[2] - a[2]) + wc * (c[2] - a[2]));
        // Entered by a triangle that faces down.
        turns[(z * ny + y) * nx + x] -= sign;
      }
    }
  }
  const inside = new Uint8Array(turns.length);
  for (let line = 0; line < nx * ny; line++) {
    let winding = 0;
    for (let z = 0; z < nz; z++) {
      const node = z * nx * ny + line;
      winding += turns[node];
      inside[node] = winding > 0 ? 1 : 0;
    }
  }
  return inside;
}

/** Between the eight nodes round a point, linear along each axis; coordinates in cells from the first node. */
function between(values: Float32Array, counts: readonly number[], u: number, v: number, w: number): number {
  const nx = counts[0];
  const ny = counts[1];
  const nz = counts[2];
  const x = Math.min(Math.max(u, 1), nx - 2.0001);
  const y = Math.min(Math.max(v, 1), ny - 2.0001);
  const z = Math.min(Math.max(w, 1), nz - 2.0001);
  const i = Math.floor(x);
  const j = Math.floor(y);
  const k = Math.floor(z);
  const a = x - i;
  const b = y - j;
  const c = z - k;
  const node = (k * ny + j) * nx + i;
  const layer = nx * ny;
  const low = (1 - b) * ((1 - a) * values[node] + a * values[node + 1]) + b * ((1 - a) * values[node + nx] + a * values[node + nx + 1]);
  const high =
    (1 - b) * ((1 - a) * values[node + layer] + a * values[node + layer + 1]) + b * ((1 - a) * values[node + layer + nx] + a * values[node + layer + nx + 1]);
  return (1 - c) * low + c * high;
}
