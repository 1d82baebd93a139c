import { expect, it } from 'vitest';
import { median } from '@cast-to-last/geometry/numerics/median';

it('median: the middle one, or between the two', () => {
  expect(median(Float64Array.of(5, 1, 3))).toBe(3);
  expect(median(Float64Array.of(5, 1, 3, 4))).toBe(3.5);
  expect(median(new Float64Array(0))).toBe(0);
});
