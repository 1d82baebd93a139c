import { expect, it } from 'vitest';
import { restPlaneUnder } from '@cast-to-last/foot/rest-plane';

it.each([0.6, 1, 3])('is found where the facet under the point falls by %f along x', (slope) => {
  const p = Float64Array.from([-100, -100, 0, -100, 100, 0, 0, -100, 0, 0, 100, 0, 100, -100, 100 * slope, 100, 100, 100 * slope]);
  expect(restPlaneUnder(p, 30, 5)?.a).toBeCloseTo(slope, 9);
});
