import { describe, expect, it } from 'vitest';
import { fitSphere } from '@cast-to-last/geometry/spheres/fit-sphere';
import { sphereCovariance } from '@cast-to-last/geometry/spheres/sphere-uncertainty';
import { rng } from '../../support/rng.ts';
import type { Rng } from '../../support/rng.ts';

/** Errors along the radius: independent ones, and ones that neighbours share (waves over the ball). */
function errors(random: Rng, independent: number, shared: number): (d: readonly number[]) => number {
  const waves = Array.from({ length: 20 }, () => ({ d: random.direction(), k: random.range(7, 14), phase: random.range(0, 7) }));
  return (d) =>
    independent * random.normal() +
    shared * Math.sqrt(2 / waves.length) * waves.reduce((s, w) => s + Math.cos(w.k * (d[0] * w.d[0] + d[1] * w.d[1] + d[2] * w.d[2]) + w.phase), 0);
}

describe('covariance of a fitted sphere', () => {
  it.each([
    ['independent errors', 91, 0.05, 0],
    ['errors that neighbours share', 92, 0.02, 0.05],
  ])('of %s: nine in ten of 200 spheres and more lie within two standard deviations, and few far within (seed %i)', (_, seed, independent, shared) => {
    const random = rng(seed);
    let within = 0;
    let square = 0;
    for (let n = 0; n < 200; n++) {
      const off = errors(random, independent, shared);
      const points = new Float64Array(3 * 800);
      for (let v = 0; v < 800; ) {
        const d = random.direction();
        if (d[2] < -0.2) continue;
        const r = 12 + off(d);
        points.set(d.map((c) => c * r), 3 * v++);
      }
      const fit = fitSphere(points)!;
      const covariance = sphereCovariance(points, fit);
      for (let k = 0; k < 4; k++) {
        const z = (k === 3 ? fit.radius - 12 : fit.centre[k]) / Math.sqrt(covariance[5 * k]);
        if (Math.abs(z) < 2) within++;
        square += z * z;
      }
    }
    expect(within / 800).toBeGreaterThan(0.9);
    expect(Math.sqrt(square / 800)).toBeGreaterThan(0.6);
  });

  it('is symmetric, and never less than that of independent errors', () => {
    const random = rng(93);
    const points = Float64Array.from(Array.from({ length: 300 }, () => random.direction().map((c) => c * (9 + 0.02 * random.normal()))).flat());
    const fit = fitSphere(points)!;
    const covariance = sphereCovariance(points, fit);
    for (let r = 0; r < 4; r++) {
      expect(covariance[5 * r]).toBeGreaterThanOrEqual(fit.cofactor[5 * r] * fit.sd ** 2 * (1 - 1e-12));
      for (let c = 0; c < 4; c++) expect(covariance[4 * r + c]).toBeCloseTo(covariance[4 * c + r], 12);
    }
  });
});
