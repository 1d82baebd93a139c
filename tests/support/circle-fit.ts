/** Radius of the circle through points of a plane by algebraic least squares (Kåsa 1976): u, v of each point. */
export function circleRadius(points: readonly (readonly [number, number])[]): number {
  const n = points.length;
  const [mu, mv] = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k], 0) / n);
  let [uu, uv, vv, ur, vr, rr] = [0, 0, 0, 0, 0, 0];
  for (const [pu, pv] of points) {
    const [u, v] = [pu - mu, pv - mv];
    const r = u * u + v * v;
    uu += u * u;
    uv += u * v;
    vv += v * v;
    ur += u * r;
    vr += v * r;
    rr += r;
  }
  const determinant = uu * vv - uv * uv;
  const [a, b] = [(ur * vv - vr * uv) / (2 * determinant), (vr * uu - ur * uv) / (2 * determinant)];
  return Math.sqrt(a * a + b * b + rr / n);
}
