import { describe, expect, it } from 'vitest';
import { dissect } from '@cast-to-last/geometry/numerics/dissect';
import type { SparseSymmetric } from '@cast-to-last/geometry/numerics/sparse-cholesky';
import { factorize } from '@cast-to-last/geometry/numerics/sparse-cholesky';
import { rng } from '../../support/rng.ts';

/** (L + shift)² of the n × n grid's Laplacian L, and the grid's points. */
function squaredGridLaplacian(n: number, shift: number): { matrix: SparseSymmetric; points: Float64Array } {
  const row = (i: number): [number, number][] => {
    const [x, y] = [i % n, Math.floor(i / n)];
    const near = [x > 0 ? i - 1 : -1, x < n - 1 ? i + 1 : -1, y > 0 ? i - n : -1, y < n - 1 ? i + n : -1].filter((j) => j >= 0);
    return [[i, near.length + shift], ...near.map((j): [number, number] => [j, -1])];
  };
  const offsets = [0];
  const columns: number[] = [];
  const values: number[] = [];
  for (let i = 0; i < n * n; i++) {
    const sum = new Map<number, number>();
    for (const [j, a] of row(i)) for (const [k, b] of row(j)) sum.set(k, (sum.get(k) ?? 0) + a * b);
    for (const [k, v] of sum) {
      columns.push(k);
      values.push(v);
    }
    offsets.push(columns.length);
  }
  const points = Float64Array.from({ length: 3 * n * n }, (_, i) => [Math.floor(i / 3) % n, Math.floor(i / 3 / n), 0][i % 3]);
  return {
    matrix: { size: n * n, offsets: Uint32Array.from(offsets), columns: Uint32Array.from(columns), values: Float64Array.from(values) },
    points,
  };
}

const times = (m: SparseSymmetric, x: Float64Array): Float64Array =>
  Float64Array.from({ length: m.size }, (_, i) => {
    let sum = 0;
    for (let e = m.offsets[i]; e < m.offsets[i + 1]; e++) sum += m.values[e] * x[m.columns[e]];
    return sum;
  });

describe('factorize', () => {
  it('solves several right-hand sides of a squared Laplacian (seed 31)', () => {
    const random = rng(31);
    const { matrix, points } = squaredGridLaplacian(40, 1e-3);
    const wanted = [0, 1, 2].map(() => Float64Array.from({ length: matrix.size }, () => random.normal()));
    const sides = wanted.map((x) => times(matrix, x));
    factorize(matrix, points)?.solve(...sides);
    sides.forEach((side, i) => {
      const error = side.reduce((most, c, k) => Math.max(most, Math.abs(c - wanted[i][k])), 0);
      expect(error).toBeLessThan(1e-5);
    });
  });

  it('solves a dense random system (seed 32)', () => {
    const random = rng(32);
    const n = 30;
    const a = Array.from({ length: n }, () => Array.from({ length: n }, () => random.normal()));
    const values = new Float64Array(n * n);
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) for (let k = 0; k < n; k++) values[n * i + j] += a[i][k] * a[j][k];
    for (let i = 0; i < n; i++) values[n * i + i] += 1;
    const matrix = {
      size: n,
      offsets: Uint32Array.from({ length: n + 1 }, (_, i) => n * i),
      columns: Uint32Array.from({ length: n * n }, (_, i) => i % n),
      values,
    };
    const wanted = Float64Array.from({ length: n }, () => random.normal());
    const side = times(matrix, wanted);
    factorize(matrix, Float64Array.from({ length: 3 * n }, () => random.next()))?.solve(side);
    for (let i = 0; i < n; i++) expect(side[i]).toBeCloseTo(wanted[i], 8);
  });

  it('refuses a matrix that is not positive definite', () => {
    const { matrix, points } = squaredGridLaplacian(5, 0.1);
    const values = matrix.values.map((v) => -v);
    expect(factorize({ ...matrix, values }, points)).toBeNull();
    expect(factorize({ ...matrix, values: values.fill(NaN) }, points)).toBeNull();
  });

  it('orders every unknown once, and keeps the factor near n log n on a patch', () => {
    const { matrix, points } = squaredGridLaplacian(60, 1e-3);
    const order = dissect(matrix.offsets, matrix.columns, points);
    expect(Array.from(order).sort((a, b) => a - b)).toEqual(Array.from({ length: 3600 }, (_, i) => i));
    expect(factorEntries(matrix, order)).toBeLessThan(0.6 * factorEntries(matrix, Uint32Array.from({ length: 3600 }, (_, i) => i)));
  });
});

/** Entries of the Cholesky factor by plain symbolic elimination. */
function factorEntries(m: SparseSymmetric, order: Uint32Array): number {
  const place = new Uint32Array(m.size);
  order.forEach((v, i) => {
    place[v] = i;
  });
  const below: Set<number>[] = Array.from({ length: m.size }, () => new Set());
  for (let i = 0; i < m.size; i++) {
    for (let e = m.offsets[i]; e < m.offsets[i + 1]; e++) {
      const [a, b] = [place[i], place[m.columns[e]]];
      if (b > a) below[a].add(b);
    }
  }
  let entries = m.size;
  for (const column of below) {
    entries += column.size;
    if (column.size === 0) continue;
    const parent = Math.min(...column);
    for (const r of column) if (r !== parent) below[parent].add(r);
  }
  return entries;
}
