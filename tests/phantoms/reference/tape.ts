/** Perimeter of the convex hull of 2-D points (u, v pairs), by gift wrapping; mm in, mm out; 0 for fewer than 2 points. */
export function tapeLength(points: Float64Array): number {
  const n = points.length / 2;
  if (n < 2) return 0;
  let first = 0;
  for (let i = 1; i < n; i++) {
    if (points[2 * i] < points[2 * first] || (points[2 * i] === points[2 * first] && points[2 * i + 1] < points[2 * first + 1])) first = i;
  }
  let length = 0;
  let at = first;
  for (let steps = 0; steps <= n; steps++) {
    let to = at === 0 ? 1 : 0;
    for (let i = 0; i < n; i++) {
      if (i === at) continue;
      const ax = points[2 * to] - points[2 * at];
      const ay = points[2 * to + 1] - points[2 * at + 1];
      const bx = points[2 * i] - points[2 * at];
      const by = points[2 * i + 1] - points[2 * at + 1];
      const turn = ax * by - ay * bx;
      if (turn > 0 || (turn === 0 && bx * bx + by * by > ax * ax + ay * ay)) to = i;
    }
    length += Math.hypot(points[2 * to] - points[2 * at], points[2 * to + 1] - points[2 * at + 1]);
    at = to;
    if (points[2 * at] === points[2 * first] && points[2 * at + 1] === points[2 * first + 1]) return length;
  }
  throw new Error('the tape did not close');
}
