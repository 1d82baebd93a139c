import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import { fitSphere, sphereDistances } from '@cast-to-last/geometry/spheres/fit-sphere';
import { rng } from '../support/rng.ts';

/** Sphere fits against a general-purpose least squares: ml-levenberg-marquardt 5.1, which knows no sphere and is given no derivative. */
describe('fitSphere and Levenberg and Marquardt by finite differences', () => {
  it.each([[1, 15, Math.PI], [2, 25, 1.5], [3, 40, 1.1], [4, 60, 0.8], [5, 30, 2.2]])('agree to 0.1 µm (seed %i, diameter %d mm, seen to %d rad)', (seed, diameter, reach) => {
    const random = rng(seed);
    const truth = [random.range(-50, 50), random.range(-50, 50), random.range(-50, 50)];
    const count = 500;
    const points = new Float64Array(3 * count);
    for (let v = 0; v < count; v++) {
      const z = random.range(Math.cos(reach), 1);
      const turn = random.range(0, 2 * Math.PI);
      const r = diameter / 2 + 0.05 * random.normal() + (v % 50 === 0 ? 0.2 : 0);
      points.set([truth[0] + r * Math.sqrt(1 - z * z) * Math.cos(turn), truth[1] + r * Math.sqrt(1 - z * z) * Math.sin(turn), truth[2] + r * z], 3 * v);
    }
    const fit = fitSphere(points)!;
    const other = levenbergMarquardt(
      { x: Array.from({ length: count }, (_, v) => v), y: new Float64Array(count) },
      ([x, y, z, r]: number[]) => (v: number) => Math.hypot(points[3 * v] - x, points[3 * v + 1] - y, points[3 * v + 2] - z) - r,
      { initialValues: [truth[0] + 1, truth[1] - 1, truth[2] + 1, diameter / 2 + 0.5], gradientDifference: 1e-5, centralDifference: true, errorTolerance: 0, improvementThreshold: 0, maxIterations: 300 },
    );
    const [x, y, z, r] = other.parameterValues;
    expect(Math.hypot(fit.centre[0] - x, fit.centre[1] - y, fit.centre[2] - z)).toBeLessThan(1e-4);
    expect(Math.abs(fit.radius - r)).toBeLessThan(1e-4);
    const sum = (centre: Float64Array, radius: number): number => sphereDistances(points, { centre, radius }).reduce((s, d) => s + d * d, 0);
    expect(sum(fit.centre, fit.radius)).toBeLessThanOrEqual(sum(Float64Array.of(x, y, z), r) * (1 + 1e-12));
  });
});
