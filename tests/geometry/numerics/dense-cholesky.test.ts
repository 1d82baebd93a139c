import { describe, expect, it } from 'vitest';
import { denseCholesky, invertCholesky, solveCholesky } from '@cast-to-last/geometry/numerics/dense-cholesky';
import { rng } from '../../support/rng.ts';

describe('Cholesky factor of a small matrix', () => {
  it.each([51, 52, 53])('solves and inverts what it was made of (seed %i)', (seed) => {
    const random = rng(seed);
    for (let round = 0; round < 30; round++) {
      const n = 1 + random.below(7);
      const root = Float64Array.from({ length: n * (n + 2) }, () => random.normal());
      const a = Float64Array.from({ length: n * n }, (_, i) => Array.from({ length: n + 2 }, (_, k) => root[(n + 2) * Math.floor(i / n) + k] * root[(n + 2) * (i % n) + k]).reduce((s, c) => s + c, 0));
      const x = Float64Array.from({ length: n }, () => random.normal());
      const b = Float64Array.from({ length: n }, (_, r) => x.reduce((s, c, k) => s + a[n * r + k] * c, 0));
      const l = denseCholesky(a, n);
      if (l === null) throw new Error('not factored');
      const inverse = invertCholesky(l, n);
      const size = Math.max(...a.map(Math.abs)) * Math.max(...inverse.map(Math.abs));
      solveCholesky(l, b).forEach((c, k) => expect(Math.abs(c - x[k])).toBeLessThan(1e-12 * size));
      for (let i = 0; i < n * n; i++) {
        const product = Array.from({ length: n }, (_, k) => a[n * Math.floor(i / n) + k] * inverse[n * k + (i % n)]).reduce((s, c) => s + c, 0);
        expect(Math.abs(product - (Math.floor(i / n) === i % n ? 1 : 0))).toBeLessThan(1e-12 * size);
      }
    }
  });

  it('is refused where the matrix is not positive definite', () => {
    expect(denseCholesky([1, 2, 2, 1], 2)).toBeNull();
    expect(denseCholesky([1, 1, 1, 1], 2)).toBeNull();
    expect(denseCholesky([0], 1)).toBeNull();
  });
});
