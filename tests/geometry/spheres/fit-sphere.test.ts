import { describe, expect, it } from 'vitest';
import { fitSphere, fitSphereTrimmed, sphereDistances } from '@cast-to-last/geometry/spheres/fit-sphere';
import { rng } from '../../support/rng.ts';
import type { Rng } from '../../support/rng.ts';

/** Points on the part of a sphere within `reach` radians of a direction, `noise` off along the radius. */
function cap(random: Rng, centre: readonly number[], radius: number, count: number, { reach = Math.PI, noise = 0 } = {}): Float64Array {
  const R = random.rotation();
  const points = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    const z = random.range(Math.cos(reach), 1);
    const turn = random.range(0, 2 * Math.PI);
    const d = [Math.sqrt(1 - z * z) * Math.cos(turn), Math.sqrt(1 - z * z) * Math.sin(turn), z];
    const r = radius + noise * random.normal();
    for (let k = 0; k < 3; k++) points[3 * v + k] = centre[k] + r * (R[3 * k] * d[0] + R[3 * k + 1] * d[1] + R[3 * k + 2] * d[2]);
  }
  return points;
}

/** Points about the origin moved outward, each by as much as `by` says. */
function lifted(points: Float64Array, by: () => number): Float64Array {
  const out = points.slice();
  for (let i = 0; i < out.length; i += 3) {
    const f = 1 + by() / Math.hypot(points[i], points[i + 1], points[i + 2]);
    for (let k = 0; k < 3; k++) out[i + k] *= f;
  }
  return out;
}

const off = (a: ArrayLike<number>, b: ArrayLike<number>): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe('the sphere of least squares', () => {
  it.each([1, 2, 3, 4])('is the one that exact points lie on, whole or in part, far from the origin too (seed %i)', (seed) => {
    const random = rng(seed);
    for (const reach of [Math.PI, 1.5, 0.6, 0.25]) {
      const centre = [0, 1, 2].map(() => random.range(-800, 800));
      const radius = random.range(5, 40);
      const fit = fitSphere(cap(random, centre, radius, 200, { reach }));
      expect(fit).not.toBeNull();
      expect(off(fit!.centre, centre)).toBeLessThan(2e-7 / reach ** 4);
      expect(Math.abs(fit!.radius - radius)).toBeLessThan(2e-7 / reach ** 4);
      expect(fit!.sd).toBeLessThan(1e-9);
    }
  });

  it.each([5, 6])('lies within 0.01 mm of the truth in centre and radius at 0.03 mm of noise (seed %i, 60 spheres of 15 to 60 mm, half of each seen)', (seed) => {
    const random = rng(seed);
    for (let n = 0; n < 60; n++) {
      const radius = random.range(7.5, 30);
      const fit = fitSphere(cap(random, [10, -20, 30], radius, 4000, { reach: Math.PI / 2, noise: 0.03 }))!;
      expect(off(fit.centre, [10, -20, 30])).toBeLessThan(0.01);
      expect(Math.abs(fit.radius - radius)).toBeLessThan(0.01);
      expect(Math.abs(fit.sd - 0.03)).toBeLessThan(0.002);
    }
  });

  it('is a stationary point: no small change of centre or radius lessens the sum of squares (seed 7)', () => {
    const points = cap(rng(7), [1, 2, 3], 12, 300, { reach: 1, noise: 0.2 });
    const fit = fitSphere(points)!;
    const sum = (dx: readonly number[]): number =>
      sphereDistances(points, { centre: fit.centre.map((c, k) => c + dx[k]), radius: fit.radius + dx[3] }).reduce((s, d) => s + d * d, 0);
    const least = sum([0, 0, 0, 0]);
    for (let k = 0; k < 4; k++) for (const step of [-1e-3, 1e-3]) expect(sum([0, 1, 2, 3].map((i) => (i === k ? step : 0)))).toBeGreaterThan(least);
  });

  it('says how far noise moves it: 400 draws scatter as its cofactor has it (seed 8)', () => {
    const random = rng(8);
    const exact = cap(random, [0, 0, 0], 10, 150, { reach: 1.2 });
    const fit = fitSphere(exact)!;
    const found = Array.from({ length: 400 }, () => {
      const again = fitSphere(lifted(exact, () => 0.05 * random.normal()))!;
      return [...again.centre, again.radius];
    });
    for (let k = 0; k < 4; k++) {
      const sd = Math.sqrt(found.reduce((s, row) => s + (row[k] - (k === 3 ? 10 : 0)) ** 2, 0) / found.length);
      expect(sd / (0.05 * Math.sqrt(fit.cofactor[5 * k]))).toBeGreaterThan(0.88);
      expect(sd / (0.05 * Math.sqrt(fit.cofactor[5 * k]))).toBeLessThan(1.12);
    }
  });

  it('is none where the points fix none', () => {
    expect(fitSphere(new Float64Array(12))).toBeNull();
    expect(fitSphere(Float64Array.from({ length: 60 }, (_, i) => (i % 3 === 2 ? 0 : Math.sin(i))))).toBeNull();
  });
});

describe('the trimmed fit', () => {
  it.each([11, 12, 13])('leaves out what is not on the sphere and nothing that is (seed %i)', (seed) => {
    const random = rng(seed);
    const on = cap(random, [0, 0, 0], 20, 3000, { reach: 1.6, noise: 0.03 });
    // A lip along one side that stands off to the outside, and spikes either way.
    const lip = lifted(cap(random, [0, 0, 0], 20, 400, { reach: 0.4 }), () => random.range(0.25, 0.6));
    const spikes = lifted(cap(random, [0, 0, 0], 20, 100), () => random.range(0.25, 3) * (random.next() < 0.5 ? -1 : 1));
    const points = Float64Array.from([...on, ...lip, ...spikes], (c, i) => c + [5, 6, 7][i % 3]);
    const fit = fitSphereTrimmed(points, { centre: Float64Array.of(5.2, 5.9, 7.1), radius: 20.2 })!;
    expect(off(fit.centre, [5, 6, 7])).toBeLessThan(0.01);
    expect(Math.abs(fit.radius - 20)).toBeLessThan(0.01);
    const kept = fit.used.subarray(0, 3000).reduce((s, u) => s + u, 0);
    expect(kept).toBeGreaterThan(2990);
    expect(fit.used.subarray(3000).reduce((s, u) => s + u, 0)).toBe(0);
    expect(Math.abs(fit.robustSd - 0.03)).toBeLessThan(0.01);
  });

  it('keeps exact points all', () => {
    const fit = fitSphereTrimmed(cap(rng(14), [0, 0, 0], 9, 100), { centre: new Float64Array(3), radius: 9 })!;
    expect(fit.used.every((u) => u === 1)).toBe(true);
  });
});
