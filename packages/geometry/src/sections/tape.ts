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
  const order = orderAlong(a, b);
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

/**
 * Places in rising order of `a`, then of `b`, equal ones as they stand. Points that follow a curve rise and fall in long runs:
 * these are found and merged, with far fewer comparisons than a sort that knows nothing of them.
 */
function orderAlong(a: Float64Array, b: Float64Array): Uint32Array {
  const count = a.length;
  let from = new Uint32Array(count);
  let ends = runsOf(a, b, from);
  let to = new Uint32Array(count);
  while (ends.length > 1) {
    const merged: number[] = [];
    for (let r = 0, start = 0; r < ends.length; r += 2) {
      const middle = ends[r];
      const end = r + 1 < ends.length ? ends[r + 1] : middle;
      mergeRuns(a, b, from, to, start, middle, end);
      merged.push(end);
      start = end;
    }
    const before = from;
    from = to;
    to = before;
    ends = merged;
  }
  return from;
}

const isBefore = (a: Float64Array, b: Float64Array, i: number, j: number): boolean => a[i] < a[j] || (a[i] === a[j] && b[i] < b[j]);

/** Writes all places, those of each falling run turned round, so that every run rises; returns where the runs end. */
function runsOf(a: Float64Array, b: Float64Array, order: Uint32Array): number[] {
  const count = a.length;
  const ends: number[] = [];
  for (let start = 0; start < count; ) {
    let end = start + 1;
    if (end < count && isBefore(a, b, end, start)) {
      while (end < count && isBefore(a, b, end, end - 1)) end++;
      for (let i = start; i < end; i++) order[i] = start + end - 1 - i;
    } else {
      while (end < count && !isBefore(a, b, end, end - 1)) end++;
      for (let i = start; i < end; i++) order[i] = i;
    }
    ends.push(end);
    start = end;
  }
  return ends;
}

/** Merges two runs that lie side by side; of equal ones those of the first come first. */
function mergeRuns(a: Float64Array, b: Float64Array, from: Uint32Array, to: Uint32Array, start: number, middle: number, end: number): void {
  let i = start;
  let j = middle;
  for (let k = start; k < end; k++) to[k] = j < end && (i === middle || isBefore(a, b, from[j], from[i])) ? from[j++] : from[i++];
}
