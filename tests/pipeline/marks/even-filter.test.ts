import { describe, expect, it } from 'vitest';
import { evenFilter } from '@cast-to-last/pipeline/marks/even-filter';
import { rng } from '../../support/rng.ts';

/** What the filter asks for over the middle, given a profile's heights. */
function asked(gap: number, reach: number, step: number, height: (s: number) => number): number {
  const { from, to, weights } = evenFilter(gap, reach, step);
  expect(weights.length).toBe(to - from + 1);
  let sum = 0;
  for (let k = from; k <= to; k++) sum += (weights[k - from] * (height(k * step) + height(-k * step))) / 2;
  return sum;
}

describe('even filter', () => {
  it.each([[4, 5, 1, 1], [16, 13, 1, 2], [2, 5, 1, 3], [7.5, 6, 0.5, 4], [0.2, 3, 1, 5], [5, 0.1, 1, 6]])(
    'gap %f, reach %f, step %f: carries every quartic across its gap exactly, odd parts falling out (seed %i)',
    (gap, reach, step, seed) => {
      const random = rng(seed);
      for (let round = 0; round < 20; round++) {
        const c = Array.from({ length: 5 }, () => random.normal());
        const outer = gap + reach + step;
        const height = (s: number): number => c.reduce((sum, a, k) => sum + a * (s / outer) ** k, 0);
        expect(asked(gap, reach, step, height)).toBeCloseTo(c[0], 7);
      }
    },
  );

  it('is blind to what lies inside its gap, and sees a dent there whole', () => {
    const dent = (s: number): number => (Math.abs(s) < 5.9 ? -2 : 0) + 0.01 * s * s;
    expect(asked(6, 5, 1, dent)).toBeCloseTo(0, 9);
    expect(asked(3, 5, 1, dent)).toBeLessThan(-0.5);
  });

  it('takes samples from the gap outwards, as far as it reaches, and never the middle itself', () => {
    const { from, to } = evenFilter(8, 6, 1);
    expect([from, to]).toEqual([8, 14]);
    expect(evenFilter(0, 5, 1).from).toBe(1);
  });

  it('does not carry a sixth power: what it cannot know it does not hide', () => {
    expect(Math.abs(asked(6, 5, 1, (s) => (s / 11) ** 6))).toBeGreaterThan(0.01);
  });
});
