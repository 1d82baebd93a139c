import { describe, expect, it } from 'vitest';
import { solveBanded } from '@cast-to-last/geometry/numerics/banded-cholesky';
import { rng } from '../../support/rng.ts';

/** Gauss elimination with the greatest pivot. */
function solveDense(matrix: readonly number[][], rhs: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, rhs[i]]);
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i][k]) > Math.abs(rows[pivot][k])) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot], rows[k]];
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const f = rows[i][k] / rows[k][k];
      for (let j = k; j <= n; j++) rows[i][j] -= f * rows[k][j];
    }
  }
  return rows.map((row, i) => row[n] / row[i]);
}

describe('banded Cholesky', () => {
  it.each([[1, 1, 0], [2, 8, 0], [3, 9, 1], [4, 30, 4], [5, 12, 11], [6, 5, 9], [7, 80, 20]])('seed %i: %i unknowns, band of %i: as by elimination of the full matrix', (seed, n, width) => {
    const random = rng(seed);
    const matrix = Array.from({ length: n }, () => Array<number>(n).fill(0));
    const band = new Float64Array(n * (width + 1));
    for (let i = 0; i < n; i++) {
      for (let j = Math.max(0, i - width); j < i; j++) matrix[i][j] = matrix[j][i] = random.normal();
    }
    // Diagonal dominance makes it positive definite.
    for (let i = 0; i < n; i++) matrix[i][i] = matrix[i].reduce((sum, c) => sum + Math.abs(c), 0) + random.range(0.01, 1);
    for (let i = 0; i < n; i++) for (let d = 0; d <= Math.min(width, i); d++) band[i * (width + 1) + d] = matrix[i][i - d];
    const sides = [0, 1, 2].map(() => Float64Array.from({ length: n }, () => random.normal()));
    const expected = sides.map((b) => solveDense(matrix, [...b]));
    solveBanded(band, width, sides);
    sides.forEach((x, k) => x.forEach((c, i) => expect(c).toBeCloseTo(expected[k][i], 9)));
  });

  it.each([['a zero', [1, 0, 0, 0]], ['a negative pivot', [1, 0, -1, 0]], ['NaN', [1, 0, NaN, 0]], ['an indefinite pair', [1, 0, 1, 2]]])('refuses %s', (_, band) => {
    expect(() => solveBanded(Float64Array.from(band), 1, [new Float64Array(2)])).toThrow(RangeError);
  });
});
