/**
 * The cubic spline through (x, y) that is level at both ends and goes on level beyond them: curvature is continuous at every
 * knot but the two at the ends.
 *
 * @param x ascending, at least two
 */
export function clampedSpline(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = x.length;
  if (n < 2 || y.length !== n || x.some((v, i) => i > 0 && !(v > x[i - 1]))) throw new RangeError('a spline needs at least two knots in ascending order');
  const h = x.slice(1).map((v, i) => v - x[i]);
  const slope = h.map((d, i) => (y[i + 1] - y[i]) / d);
  // Slopes at the knots: continuity of the second derivative, tridiagonal (de Boor, A Practical Guide to Splines, IV).
  const m = new Float64Array(n);
  const above = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const diagonal = 2 * (1 / h[i - 1] + 1 / h[i]) - above[i - 1] / h[i - 1];
    above[i] = 1 / h[i] / diagonal;
    m[i] = (3 * (slope[i - 1] / h[i - 1] + slope[i] / h[i]) - m[i - 1] / h[i - 1]) / diagonal;
  }
  for (let i = n - 2; i > 0; i--) m[i] -= above[i] * m[i + 1];
  return (at) => {
    if (at <= x[0]) return y[0];
    if (at >= x[n - 1]) return y[n - 1];
    let i = 0;
    while (at > x[i + 1]) i++;
    const t = (at - x[i]) / h[i];
    const a = h[i] * m[i] - (y[i + 1] - y[i]);
    const b = y[i + 1] - y[i] - h[i] * m[i + 1];
    return y[i] + t * (y[i + 1] - y[i]) + t * (1 - t) * ((1 - t) * a + t * b);
  };
}
