import type { Mesh } from '../mesh/mesh.js';
import { triangleCount, vertexCount } from '../mesh/mesh.js';
import { vertexNormals } from '../mesh/quantities.js';
import { BOUNDARY } from '../mesh/topology.js';

/** Consistent orientation by propagation across edges, and the side that faces outward. Both linear. */
export interface Oriented {
  readonly triangles: Uint32Array;
  /** Halfedge pairs of `triangles`; edges where no consistent orientation exists (a one-sided strip) are cut. */
  readonly twin: Int32Array;
  /** The piece of each triangle: what hangs together across edges, numbered from 0. */
  readonly piece: Int32Array;
  readonly pieces: number;
  /** One byte a triangle: 1 where it was turned. Within a piece the majority stays as it was. */
  readonly flipped: Uint8Array;
  /** Edges cut because orientation contradicted itself there. */
  readonly cutEdges: number;
}

/** `twin` pairs halfedges that may run either way, as pairEdges gives it. */
export function orientConsistently(triangles: Uint32Array, twin: Int32Array): Oriented {
  const count = triangles.length / 3;
  const piece = new Int32Array(count).fill(-1);
  const flipped = new Uint8Array(count);
  const queue = new Uint32Array(count);
  const pair = twin.slice();
  const flood: Flood = { triangles, pair, piece, flipped, queue, reached: 0, turned: 0, cutEdges: 0 };
  let pieces = 0;
  let anyFlipped = false;
  for (let seed = 0; seed < count; seed++) {
    if (piece[seed] >= 0) continue;
    floodFrom(flood, seed, pieces);
    if (2 * flood.turned > flood.reached) {
      for (let i = 0; i < flood.reached; i++) flipped[queue[i]] ^= 1;
      flood.turned = flood.reached - flood.turned;
    }
    anyFlipped ||= flood.turned > 0;
    pieces++;
  }
  const turned = anyFlipped ? flipTriangles(triangles, pair, flipped) : { triangles, twin: pair };
  return { ...turned, piece, pieces, flipped, cutEdges: flood.cutEdges };
}

/** Triangles that take the piece and the way round of those across their edges, from a seed on. */
interface Flood {
  readonly triangles: Uint32Array;
  readonly pair: Int32Array;
  readonly piece: Int32Array;
  readonly flipped: Uint8Array;
  /** The triangles that were reached, first of all the seed. */
  readonly queue: Uint32Array;
  reached: number;
  /** How many of them were turned. */
  turned: number;
  /** Of all floods so far. */
  cutEdges: number;
}

function floodFrom(flood: Flood, seed: number, own: number): void {
  const { triangles, pair, piece, flipped, queue } = flood;
  piece[seed] = own;
  queue[0] = seed;
  let tail = 1;
  let turned = 0;
  let cutEdges = 0;
  for (let head = 0; head < tail; head++) {
    const t = queue[head];
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const g = pair[h];
      if (g < 0) continue;
      const s = (g / 3) | 0;
      const flip = triangles[g] === triangles[h] ? flipped[t] ^ 1 : flipped[t];
      if (piece[s] < 0) {
        piece[s] = own;
        flipped[s] = flip;
        turned += flip;
        queue[tail++] = s;
      } else if (flipped[s] !== flip) {
        pair[h] = BOUNDARY;
        pair[g] = BOUNDARY;
        cutEdges++;
      }
    }
  }
  flood.reached = tail;
  flood.turned = turned;
  flood.cutEdges += cutEdges;
}

/** The triangles marked in `flip` turned over, and the pairs of halfedges that follow from it. */
export function flipTriangles(
  triangles: Uint32Array,
  twin: Int32Array,
  flip: Uint8Array,
): { triangles: Uint32Array; twin: Int32Array } {
  const turned = triangles.slice();
  const pair = new Int32Array(twin.length);
  const place = (h: number): number => {
    const t = (h / 3) | 0;
    return flip[t] ? 6 * t + 2 - h : h;
  };
  for (let t = 0; t < flip.length; t++) {
    if (!flip[t]) continue;
    turned[3 * t + 1] = triangles[3 * t + 2];
    turned[3 * t + 2] = triangles[3 * t + 1];
  }
  for (let h = 0; h < twin.length; h++) pair[place(h)] = twin[h] < 0 ? twin[h] : place(twin[h]);
  return { triangles: turned, twin: pair };
}

export const OUTWARD_DEFAULTS = {
  /** Volume over that of the sphere of the same area, below which the volume does not decide and extreme points vote. */
  ambiguousVolume: 0.02,
} as const;

/**
 * Whether a consistently oriented, connected mesh faces inward. The volume decides, each boundary loop closed by a fan
 * about its centroid; where there is hardly any, the normals at the mesh's extreme points in many directions do.
 * `loops` are the boundary loops with the surface on the left.
 */
export function facesInward(mesh: Mesh, loops: readonly Uint32Array[]): boolean {
  const { positions: p, triangles: t } = mesh;
  const n = vertexCount(mesh);
  const centre = centroid(p, null, n);
  let volume = 0;
  let area = 0;
  const wedge = (a: ArrayLike<number>, ai: number, b: ArrayLike<number>, bi: number, c: ArrayLike<number>, ci: number): void => {
    const ax = a[ai] - centre[0], ay = a[ai + 1] - centre[1], az = a[ai + 2] - centre[2];
    const bx = b[bi] - centre[0], by = b[bi + 1] - centre[1], bz = b[bi + 2] - centre[2];
    const cx = c[ci] - centre[0], cy = c[ci + 1] - centre[1], cz = c[ci + 2] - centre[2];
    volume += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    const ux = bx - ax, uy = by - ay, uz = bz - az;
    const vx = cx - ax, vy = cy - ay, vz = cz - az;
    area += Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2);
  };
  for (let i = 0; i < 3 * triangleCount(mesh); i += 3) wedge(p, 3 * t[i], p, 3 * t[i + 1], p, 3 * t[i + 2]);
  for (const loop of loops) {
    const middle = centroid(p, loop, loop.length);
    for (let i = 0; i < loop.length; i++) wedge(p, 3 * loop[(i + 1) % loop.length], p, 3 * loop[i], middle, 0);
  }
  volume /= 6;
  area /= 2;
  const sphere = area ** 1.5 / (6 * Math.sqrt(Math.PI));
  if (Math.abs(volume) > OUTWARD_DEFAULTS.ambiguousVolume * sphere) return volume < 0;
  return extremePointsFaceInward(mesh);
}

/** Sums, over directions spread on the sphere, how far the surface faces each direction at its farthest point that way. */
function extremePointsFaceInward(mesh: Mesh): boolean {
  const { positions: p } = mesh;
  const normals = vertexNormals(mesh);
  const directions = 64;
  let vote = 0;
  for (let i = 0; i < directions; i++) {
    const z = 1 - (2 * i + 1) / directions;
    const r = Math.sqrt(1 - z * z);
    const x = r * Math.cos(2.399963229728653 * i);
    const y = r * Math.sin(2.399963229728653 * i);
    let best = -Infinity;
    let at = 0;
    for (let v = 0; v < p.length; v += 3) {
      const d = x * p[v] + y * p[v + 1] + z * p[v + 2];
      if (d > best) {
        best = d;
        at = v;
      }
    }
    vote += x * normals[at] + y * normals[at + 1] + z * normals[at + 2];
  }
  return vote < 0;
}

function centroid(p: Float64Array, of: Uint32Array | null, count: number): Float64Array {
  const sum = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    const v = of ? of[i] : i;
    for (let k = 0; k < 3; k++) sum[k] += p[3 * v + k] / count;
  }
  return sum;
}
