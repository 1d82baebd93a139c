/** Values at even steps round a closed line, `stride` of them a point, blurred by a Gaussian of `sigma` steps. */
export function smoothRing(values: Float64Array, stride: number, sigma: number): Float64Array {
  const count = values.length / stride;
  const reach = Math.min(Math.ceil(3 * sigma), (count - 1) >> 1);
  const weights = Float64Array.from({ length: reach + 1 }, (_, i) => Math.exp(-(i * i) / (2 * sigma * sigma)));
  const total = weights.reduce((sum, w, i) => sum + (i === 0 ? w : 2 * w), 0);
  const out = new Float64Array(values.length);
  for (let i = 0; i < count; i++) {
    for (let j = -reach; j <= reach; j++) {
      const from = stride * ((i + j + count) % count);
      const w = weights[Math.abs(j)] / total;
      for (let k = 0; k < stride; k++) out[stride * i + k] += w * values[from + k];
    }
  }
  return out;
}

/** `count` points at even steps of arc length round a closed line of x, y pairs; the first is the line's own. `at` is the arc length of each corner. */
export function evenRing(line: Float64Array, count: number): { readonly points: Float64Array; readonly at: Float64Array; readonly length: number } {
  const corners = line.length / 2;
  const at = new Float64Array(corners + 1);
  for (let i = 0; i < corners; i++) {
    const j = (i + 1) % corners;
    at[i + 1] = at[i] + Math.hypot(line[2 * j] - line[2 * i], line[2 * j + 1] - line[2 * i + 1]);
  }
  const length = at[corners];
  const points = new Float64Array(2 * count);
  for (let i = 0, c = 0; i < count; i++) {
    const s = (i * length) / count;
    while (at[c + 1] < s) c++;
    const share = at[c + 1] > at[c] ? (s - at[c]) / (at[c + 1] - at[c]) : 0;
    const next = (c + 1) % corners;
    for (let k = 0; k < 2; k++) points[2 * i + k] = line[2 * c + k] + share * (line[2 * next + k] - line[2 * c + k]);
  }
  return { points, at: at.subarray(0, corners), length };
}

/** Whether a closed line of x, y pairs crosses itself. Grows with the square of its corners. */
export function ringCrosses(ring: Float64Array): boolean {
  const n = ring.length / 2;
  const side = (a: number, b: number, c: number): number =>
    (ring[2 * b] - ring[2 * a]) * (ring[2 * c + 1] - ring[2 * a + 1]) - (ring[2 * b + 1] - ring[2 * a + 1]) * (ring[2 * c] - ring[2 * a]);
  for (let i = 0; i < n; i++) {
    const i2 = (i + 1) % n;
    for (let j = i + 2; j < n; j++) {
      const j2 = (j + 1) % n;
      if (j2 === i) continue;
      if (side(i, i2, j) * side(i, i2, j2) <= 0 && side(j, j2, i) * side(j, j2, i2) <= 0) return true;
    }
  }
  return false;
}

/** The area that a closed line of x, y pairs goes round; positive where it turns left. */
export function ringArea(ring: Float64Array): number {
  const n = ring.length / 2;
  let twice = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    twice += ring[2 * i] * ring[2 * j + 1] - ring[2 * j] * ring[2 * i + 1];
  }
  return twice / 2;
}
