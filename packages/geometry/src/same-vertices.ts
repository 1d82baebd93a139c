import type { Mesh } from './mesh.js';

/**
 * For each vertex of a mesh the vertex of another that lies at the same place to the precision of float32, which solid
 * modelling and files keep; −1 where there is none. Linear in the vertices.
 */
export function sameVertices({ positions: p }: Mesh, { positions: q }: Mesh): Int32Array {
  const count = q.length / 3;
  const buckets = 1 << Math.ceil(Math.log2(count + 1));
  const head = new Int32Array(buckets).fill(-1);
  const next = new Int32Array(count);
  const float = new Float32Array(3);
  const bits = new Int32Array(float.buffer);
  const bucket = (points: Float64Array, i: number): number => {
    // 0 and −0 are one place.
    for (let k = 0; k < 3; k++) float[k] = points[i + k] + 0;
    return (Math.imul(bits[0], 0x9e3779b1) ^ Math.imul(bits[1], 0x85ebca6b) ^ Math.imul(bits[2], 0xc2b2ae35)) >>> 0 & (buckets - 1);
  };
  for (let w = 0; w < count; w++) {
    const b = bucket(q, 3 * w);
    next[w] = head[b];
    head[b] = w;
  }
  const same = new Int32Array(p.length / 3).fill(-1);
  for (let v = 0; v < same.length; v++) {
    for (let w = head[bucket(p, 3 * v)]; w >= 0 && same[v] < 0; w = next[w]) {
      if ([0, 1, 2].every((k) => Math.fround(p[3 * v + k]) === Math.fround(q[3 * w + k]))) same[v] = w;
    }
  }
  return same;
}
