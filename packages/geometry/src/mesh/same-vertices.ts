import type { Mesh } from './mesh.js';

/**
 * For each vertex of a mesh the vertex of another that lies at the same place to the precision of float32, which solid
 * modelling and files keep; −1 where there is none. Linear in the vertices.
 */
export function sameVertices({ positions: p }: Mesh, { positions: q }: Mesh): Int32Array {
  const count = q.length / 3;
  const mask = 2 ** Math.ceil(Math.log2(count + 1)) - 1;
  const head = new Int32Array(mask + 1).fill(-1);
  const next = new Int32Array(count);
  const others = bitsOf(q);
  for (let w = 0; w < count; w++) {
    const bucket = hash(others, 3 * w) & mask;
    next[w] = head[bucket];
    head[bucket] = w;
  }
  const own = bitsOf(p);
  const same = new Int32Array(p.length / 3).fill(-1);
  for (let v = 0; v < same.length; v++) {
    const i = 3 * v;
    let w = head[hash(own, i) & mask];
    while (w >= 0 && (own[i] !== others[3 * w] || own[i + 1] !== others[3 * w + 1] || own[i + 2] !== others[3 * w + 2])) w = next[w];
    same[v] = w;
  }
  return same;
}

/** The float32 of each coordinate, bit for bit. */
function bitsOf(points: Float64Array): Int32Array {
  const floats = new Float32Array(points.length);
  // 0 and −0 are one place.
  for (let i = 0; i < points.length; i++) floats[i] = points[i] + 0;
  return new Int32Array(floats.buffer);
}

const hash = (bits: Int32Array, i: number): number => Math.imul(bits[i], 0x9e3779b1) ^ Math.imul(bits[i + 1], 0x85ebca6b) ^ Math.imul(bits[i + 2], 0xc2b2ae35);
