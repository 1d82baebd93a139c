import { describe, expect, it } from 'vitest';
import { symmetricEigen } from '@cast-to-last/geometry/numerics/symmetric-eigen';
import { rng } from '../../support/rng.ts';

describe('eigenvectors of symmetric matrices', () => {
  it.each([21, 22, 23, 24])('are those that the matrix was made of (seed %i)', (seed) => {
    const random = rng(seed);
    for (let n = 0; n < 50; n++) {
      const R = random.rotation();
      const values = [random.normal() * 10 ** random.range(-3, 6), random.normal(), n % 5 === 0 ? 0 : random.normal()].sort((a, b) => b - a);
      const m = Float64Array.from({ length: 9 }, (_, i) => [0, 1, 2].reduce((sum, k) => sum + values[k] * R[3 * k + Math.floor(i / 3)] * R[3 * k + (i % 3)], 0));
      const found = symmetricEigen(m);
      const size = Math.max(...values.map(Math.abs));
      found.values.forEach((value, k) => expect(Math.abs(value - values[k]) / size).toBeLessThan(1e-12));
      found.vectors.forEach((v, k) => {
        for (let r = 0; r < 3; r++) {
          const product = m[3 * r] * v[0] + m[3 * r + 1] * v[1] + m[3 * r + 2] * v[2];
          expect(Math.abs(product - found.values[k] * v[r]) / size).toBeLessThan(1e-12);
        }
        found.vectors.forEach((w, j) => expect(v[0] * w[0] + v[1] * w[1] + v[2] * w[2]).toBeCloseTo(j === k ? 1 : 0, 12));
      });
    }
  });
  it('hold for equal values and for nothing', () => {
    expect(symmetricEigen([2, 0, 0, 0, 2, 0, 0, 0, 2]).values).toEqual([2, 2, 2]);
    expect(symmetricEigen(new Float64Array(9)).values).toEqual([0, 0, 0]);
  });
});
