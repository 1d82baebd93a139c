/** A tape drawn tight round points of one plane: their convex hull. */
export interface Tape {
  /** Perimeter of the hull, mm. */
  readonly length: number;
  /** x, y, z of the hull's corners in order. */
  readonly line: Float64Array;
  /** Which of the given points each corner is. */
  readonly corners: Uint32Array;
}

/**
 * The tape round points that lie in one plane (Andrew's monotone chain).
 *
 * @param points x, y, z of the points
 * @param u unit 3-vector in the plane
 * @param v unit 3-vector in the plane, at right angles to u
 */
export function tapeRound(points: Float64Array, u: ArrayLike<number>, v: ArrayLike<number>): Tape {
  const count = points.length / 3;
  const a = new Float64Array(count);
  const b = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const x = points[3 * i];
    const y = points[3 * i + 1];
    const z = points[3 * i + 2];
    a[i] = u[0] * x + u[1] * y + u[2] * z;
    b[i] = v[0] * x + v[1] * y + v[2] * z;
  }
  const order = new Uint32Array(count).map((_, i) => i).sort((i, j) => a[i] - a[j] || b[i] - b[j]);
  const hull: number[] = [];
  if (count > 0) {
    chain(hull, order, a, b, 1);
    chain(hull, order, a, b, -1);
    if (hull.length === 0) hull.push(order[0]);
  }
  let length = 0;
  const line = new Float64Array(3 * hull.length);
  hull.forEach((i, k) => {
    const j = hull[(k + 1) % hull.length];
    length += Math.hypot(a[j] - a[i], b[j] - b[i]);
    line.set(points.subarray(3 * i, 3 * i + 3), 3 * k);
  });
  return { length, line, corners: Uint32Array.from(hull) };
}

/** Adds one half of the hull, of the points gone through in order (step 1) or backwards (−1), without its last corner. */
function chain(hull: number[], order: Uint32Array, a: Float64Array, b: Float64Array, step: 1 | -1): void {
  const floor = hull.length;
  for (let n = 0, k = step === 1 ? 0 : order.length - 1; n < order.length; n++, k += step) {
    const i = order[k];
    while (hull.length > floor + 1) {
      const q = hull[hull.length - 1];
      const o = hull[hull.length - 2];
      if ((a[q] - a[o]) * (b[i] - b[o]) - (b[q] - b[o]) * (a[i] - a[o]) > 0) break;
      hull.pop();
    }
    hull.push(i);
  }
  hull.pop();
}
