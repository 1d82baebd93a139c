import { describe, expect, it } from 'vitest';
import { quantile } from '../../support/statistics.ts';
import { agreement, shareInterval } from './statistics.ts';

describe('statistics of the accuracy book', () => {
  it('agreement of differences worked by hand', () => {
    const { bias, sd, low, high, biasHalf } = agreement([1, 2, 3, 4, 5]);
    expect(bias).toBe(3);
    expect(sd).toBeCloseTo(Math.sqrt(2.5), 12);
    expect([low, high].map((v) => v.toFixed(3))).toEqual([(3 - 1.96 * Math.sqrt(2.5)).toFixed(3), (3 + 1.96 * Math.sqrt(2.5)).toFixed(3)]);
    expect(biasHalf).toBeCloseTo((1.96 * Math.sqrt(2.5)) / Math.sqrt(5), 12);
  });

  // Closed form: the limits are the roots p of (p̂ − p)² = z² p(1 − p)/n.
  it.each([[0, 10], [8, 10], [95, 100], [10, 10]])('the interval of %i in %i solves the equation that defines it', (part, whole) => {
    const { low, high } = shareInterval(part, whole);
    for (const p of [low, high]) expect((part / whole - p) ** 2).toBeCloseTo((1.959964 ** 2 * p * (1 - p)) / whole, 9);
    expect(low).toBeLessThanOrEqual(part / whole);
    expect(high).toBeGreaterThan(part / whole - 1e-12);
  });

  it('quantiles are values that are there', () => {
    expect(quantile([5, 1, 3, 2, 4], 0.5)).toBe(3);
    expect(quantile([5, 1, 3, 2, 4], 1)).toBe(5);
  });
});
