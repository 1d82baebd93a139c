import { describe, expect, it } from 'vitest';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { crossAxes, turnedBody } from '@cast-to-last/geometry/solids/turned-body';
import { rng } from '../../support/rng.ts';

describe('a turned body', () => {
  it.each([1, 2, 3, 4])('is closed, outward, and has the volume of its frustums, about any axis (seed %d)', (seed) => {
    const random = rng(seed);
    const direction = [random.normal(), random.normal(), random.normal()];
    const length = Math.hypot(...direction);
    const axis = direction.map((c) => c / length);
    const profile = [[-2, 3], [5, 3], [6, 4], [9, 1]] as const;
    const sides = 96;
    const mesh = turnedBody([random.range(-50, 50), 7, -3], axis, profile, sides);
    expect(twins(mesh).every((h) => h >= 0)).toBe(true);
    // A polygon with its corners on the circle, over the circle.
    const share = Math.sin((2 * Math.PI) / sides) / ((2 * Math.PI) / sides);
    let expected = 0;
    for (let i = 1; i < profile.length; i++) {
      const [[a, r], [b, q]] = [profile[i - 1], profile[i]];
      expected += ((Math.PI * (b - a)) / 3) * (r * r + r * q + q * q) * share;
    }
    expect(signedVolume(mesh) / expected).toBeCloseTo(1, 6);
  });
  it.each([[1, 0, 0], [0, -1, 0], [0.6, 0, -0.8], [1 / Math.sqrt(3), 1 / Math.sqrt(3), 1 / Math.sqrt(3)]])('axes across %d %d %d make a right-handed frame with it', (...axis) => {
    const [a, b] = crossAxes(axis);
    const cross = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
    expect(Math.hypot(...a)).toBeCloseTo(1, 12);
    cross.forEach((c, k) => expect(c).toBeCloseTo(axis[k], 12));
  });
});
