import { describe, expect, it } from 'vitest';
import { clampedSpline } from '@cast-to-last/geometry/splines/clamped-spline';

describe('a spline that is level at its ends', () => {
  it('goes through its knots and stays level beyond them', () => {
    const at = clampedSpline([0, 2, 3, 7], [1, 4, 2, 5]);
    expect([0, 2, 3, 7].map(at)).toEqual([1, 4, 2, 5]);
    expect([at(-5), at(90)]).toEqual([1, 5]);
  });

  it('is the cubic step between two knots (closed form: 3t² − 2t³)', () => {
    const at = clampedSpline([10, 20], [0, 1]);
    for (const t of [0.1, 0.25, 0.5, 0.9]) expect(at(10 + 10 * t)).toBeCloseTo(3 * t * t - 2 * t ** 3, 12);
  });

  it('has no jump of slope or curvature at an inner knot', () => {
    const at = clampedSpline([0, 1, 2.5, 4], [0, 2, -1, 3]);
    const h = 1e-4;
    for (const x of [1, 2.5]) {
      const slope = (from: number) => (at(from + h) - at(from)) / h;
      const bend = (from: number) => (at(from + 2 * h) - 2 * at(from + h) + at(from)) / (h * h);
      expect(slope(x) - slope(x - h)).toBeCloseTo(0, 2);
      expect(Math.abs(bend(x) - bend(x - 2 * h))).toBeLessThan(0.05);
    }
  });

  it('refuses knots out of order', () => {
    expect(() => clampedSpline([0, 0], [1, 2])).toThrow(RangeError);
    expect(() => clampedSpline([0], [1])).toThrow(RangeError);
  });
});
