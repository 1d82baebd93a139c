import { describe, expect, it } from 'vitest';
import { planeBounds } from '@cast-to-last/geometry/numerics/plane-bounds';

describe('bounds in the plane', () => {
  it('hold every point and touch the outermost', () => {
    expect(planeBounds(new Float64Array([3, -2, -1, 7, 2, 0.5]))).toEqual({ minX: -1, minY: -2, maxX: 3, maxY: 7 });
    expect(planeBounds(new Float64Array([4, 5]))).toEqual({ minX: 4, minY: 5, maxX: 4, maxY: 5 });
  });

  it('of no points hold nothing', () => {
    const { minX, minY, maxX, maxY } = planeBounds(new Float64Array(0));
    expect(minX).toBeGreaterThan(maxX);
    expect(minY).toBeGreaterThan(maxY);
  });
});
