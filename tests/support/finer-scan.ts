/**
 * The same surface with n² triangles for each: every triangle of a binary STL parted along n − 1 lines each way.
 *
 * @param stl a binary STL
 * @param n parts of each edge
 */
export function finerScan(stl: Uint8Array, n: number): Uint8Array<ArrayBuffer> {
  const from = new DataView(stl.buffer, stl.byteOffset, stl.byteLength);
  const count = from.getUint32(80, true);
  const out = new Uint8Array(84 + 50 * count * n * n);
  const to = new DataView(out.buffer);
  to.setUint32(80, count * n * n, true);
  let at = 84;
  const corner = new Float64Array(9);
  /** Corner c of a small triangle at the place i, j of the grid over the triangle. Equal places give equal coordinates: they are drawn from whole shares. */
  const put = (c: number, i: number, j: number): void => {
    for (let k = 0; k < 3; k++) to.setFloat32(at + 12 + 12 * c + 4 * k, ((n - i - j) * corner[k] + i * corner[3 + k] + j * corner[6 + k]) / n, true);
  };
  for (let t = 0; t < count; t++) {
    for (let k = 0; k < 9; k++) corner[k] = from.getFloat32(84 + 50 * t + 12 + 4 * k, true);
    for (let i = 0; i < n; i++) {
      for (let j = 0; i + j < n; j++) {
        for (const down of i + j < n - 1 ? [false, true] : [false]) {
          const [a, b, c] = down ? [[i + 1, j], [i + 1, j + 1], [i, j + 1]] : [[i, j], [i + 1, j], [i, j + 1]];
          put(0, a[0], a[1]);
          put(1, b[0], b[1]);
          put(2, c[0], c[1]);
          at += 50;
        }
      }
    }
  }
  return out;
}
