const STEP = 0.25;
const ROUNDS = 30;
const SETTLED = 1e-4;

/**
 * Solves f(a) = aims for three unknowns by Newton's method with differences, from `start`.
 *
 * @returns null where the steps do not settle
 */
export function solveThree(f: (a: ArrayLike<number>) => Float64Array, aims: ArrayLike<number>, start: ArrayLike<number>): Float64Array | null {
  const a = Float64Array.from(start);
  for (let round = 0; round < ROUNDS; round++) {
    const now = f(a);
    const misses = now.map((value, i) => aims[i] - value);
    if (misses.every((miss) => Math.abs(miss) < SETTLED)) return a;
    const columns = [0, 1, 2].map((k) => f(a.map((value, i) => (i === k ? value + STEP : value))).map((value, i) => (value - now[i]) / STEP));
    const volume = determinant(columns[0], columns[1], columns[2]);
    if (!(Math.abs(volume) > 1e-6)) return null;
    for (let k = 0; k < 3; k++) {
      const swapped = columns.map((column, i) => (i === k ? misses : column));
      a[k] += determinant(swapped[0], swapped[1], swapped[2]) / volume;
    }
    if (!a.every((value) => Math.abs(value) < 100)) return null;
  }
  return null;
}

const determinant = (a: ArrayLike<number>, b: ArrayLike<number>, c: ArrayLike<number>): number =>
  a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1]);
