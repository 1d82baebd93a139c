/**
 * A fill-reducing order for a sparse symmetric matrix whose unknowns stand for points of a surface: nested dissection by
 * halving the points along the longest side of their box (A. George, SIAM J. Numer. Anal. 10, 1973). n log n.
 */
export const DISSECT_DEFAULTS = {
  /** Sets of at most this many unknowns are not split further. */
  leaf: 24,
} as const;

/** The elimination order: order[k] is the k-th unknown to go. `offsets` and `columns` are the matrix's pattern; `points` 3 × size. */
export function dissect(offsets: Uint32Array, columns: Uint32Array, points: Float64Array): Uint32Array {
  const size = offsets.length - 1;
  const order = Uint32Array.from({ length: size }, (_, i) => i);
  const side = new Uint8Array(size);
  const stack: [number, number][] = [[0, size]];
  for (let part = stack.pop(); part; part = stack.pop()) {
    const [from, to] = part;
    if (to - from <= DISSECT_DEFAULTS.leaf) continue;
    const axis = longestAxis(points, order, from, to);
    const middle = (from + to) >> 1;
    selectMedian(points, axis, order, from, to, middle);
    for (let i = from; i < middle; i++) side[order[i]] = 1;
    for (let i = middle; i < to; i++) side[order[i]] = 2;
    let rightEnd = to;
    for (let i = to - 1; i >= middle; i--) {
      const v = order[i];
      let touches = false;
      for (let e = offsets[v]; e < offsets[v + 1] && !touches; e++) touches = side[columns[e]] === 1;
      if (!touches) continue;
      rightEnd--;
      order[i] = order[rightEnd];
      order[rightEnd] = v;
    }
    for (let i = from; i < to; i++) side[order[i]] = 0;
    stack.push([from, middle], [middle, rightEnd]);
  }
  return order;
}

function longestAxis(points: Float64Array, order: Uint32Array, from: number, to: number): number {
  let best = 0;
  let longest = -1;
  for (let axis = 0; axis < 3; axis++) {
    let low = Infinity;
    let high = -Infinity;
    for (let i = from; i < to; i++) {
      const c = points[3 * order[i] + axis];
      if (c < low) low = c;
      if (c > high) high = c;
    }
    if (high - low > longest) {
      longest = high - low;
      best = axis;
    }
  }
  return best;
}

/** Reorders order[from … to − 1] so that what comes before `middle` has no greater coordinate than what follows. */
function selectMedian(points: Float64Array, axis: number, order: Uint32Array, from: number, to: number, middle: number): void {
  let low = from;
  let high = to - 1;
  while (low < high) {
    const pivot = points[3 * order[(low + high) >> 1] + axis];
    let i = low;
    let j = high;
    while (i <= j) {
      while (points[3 * order[i] + axis] < pivot) i++;
      while (points[3 * order[j] + axis] > pivot) j--;
      if (i > j) break;
      const swap = order[i];
      order[i++] = order[j];
      order[j--] = swap;
    }
    if (middle <= j) high = j;
    else if (middle >= i) low = i;
    else return;
  }
}
