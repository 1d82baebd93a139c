// For tests/geometry/splines/spline-patch.test.ts: knots of a third of half the side are six cells a side, whatever the half is.
import { expect, it } from 'vitest';
import { fitSplinePatch } from '@cast-to-last/geometry/splines/spline-patch';

it('has six cells a side where the knots asked for are a third of half the side, whatever rounding makes of it', () => {
  const sides = new Set<number>();
  for (let half = 12; half < 18; half += 0.037) {
    sides.add(fitSplinePatch(new Float64Array(2), new Float64Array(3), new Float64Array(1), { half, spacing: (1 / 3) * half, bendLength: 0, curlLength: 2 }).side);
  }
  expect([...sides]).toEqual([9]);
});
