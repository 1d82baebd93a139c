/** The vectors (x, y, z one after another) of some vertices, in their order. */
export function gather(vectors: Float64Array, vertices: Uint32Array): Float64Array {
  const out = new Float64Array(3 * vertices.length);
  vertices.forEach((v, i) => out.set(vectors.subarray(3 * v, 3 * v + 3), 3 * i));
  return out;
}
