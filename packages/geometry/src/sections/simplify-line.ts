/**
 * A line with the points left out that lie within `tolerance` of the line through those kept (Douglas and Peucker 1973,
 * Cartographica 10:112). Points are pairs; a closed line is split at the point furthest from its first.
 */
export function simplifyLine(points: Float64Array, tolerance: number, closed: boolean): Float64Array {
  const count = points.length / 2;
  if (count < 3) return points.slice();
  const keep = new Uint8Array(count);
  keep[0] = 1;
  if (closed) {
    const far = furthestFromFirst(points);
    keep[far] = 1;
    mark(points, keep, 0, far, tolerance);
    mark(points, keep, far, count, tolerance);
  } else {
    keep[count - 1] = 1;
    mark(points, keep, 0, count - 1, tolerance);
  }
  const kept: number[] = [];
  for (let i = 0; i < count; i++) if (keep[i] === 1) kept.push(points[2 * i], points[2 * i + 1]);
  return Float64Array.from(kept);
}

function furthestFromFirst(points: Float64Array): number {
  let far = 0;
  let distance = -1;
  for (let i = 0; 2 * i < points.length; i++) {
    const d = Math.hypot(points[2 * i] - points[0], points[2 * i + 1] - points[1]);
    if (d > distance) {
      far = i;
      distance = d;
    }
  }
  return far;
}

/** Marks what to keep between two kept points; index `count` stands for the first point again. */
function mark(points: Float64Array, keep: Uint8Array, from: number, to: number, tolerance: number): void {
  const count = keep.length;
  const open: [number, number][] = [[from, to]];
  for (let span = open.pop(); span !== undefined; span = open.pop()) {
    const [a, b] = span;
    const ax = points[2 * a];
    const ay = points[2 * a + 1];
    const bx = points[2 * (b % count)];
    const by = points[2 * (b % count) + 1];
    const length = Math.hypot(bx - ax, by - ay);
    let worst = -1;
    let distance = tolerance;
    for (let i = a + 1; i < b; i++) {
      const x = points[2 * i] - ax;
      const y = points[2 * i + 1] - ay;
      const d = length === 0 ? Math.hypot(x, y) : Math.abs(x * (by - ay) - y * (bx - ax)) / length;
      if (d > distance) {
        worst = i;
        distance = d;
      }
    }
    if (worst < 0) continue;
    keep[worst] = 1;
    open.push([a, worst], [worst, b]);
  }
}
