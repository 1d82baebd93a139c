import { describe, expect, it } from 'vitest';
import { HullExit } from '@cast-to-last/pipeline/last/toes/hull-exit';
import { rng } from '../../../support/rng.js';

const SEED = 20_117;

describe(`HullExit, seed ${SEED}`, () => {
  it('leaves a box where its planes are met', () => {
    const { next: random } = rng(SEED);
    const corners = Float64Array.from({ length: 24 }, (_, i) => [1, 2, 3][i % 3] * ((((i / 3) | 0) >> (i % 3)) & 1 ? 1 : -1));
    const hull = new HullExit(corners);
    for (let k = 0; k < 500; k++) {
      const c = [1.6, 3.2, 4.8].map((size) => size * (random() - 0.5));
      const d = [0, 1, 2].map(() => random() - 0.5);
      const wanted = Math.min(...[1, 2, 3].map((half, i) => ((d[i] > 0 ? half : -half) - c[i]) / d[i]));
      expect(hull.exit(c[0], c[1], c[2], d[0], d[1], d[2])).toBeCloseTo(wanted, 6);
    }
  });

  it('finds, among random points, a plane that none of them lies beyond', () => {
    const { next: random } = rng(SEED + 1);
    const points = Float64Array.from({ length: 900 }, (_, i) => (random() - 0.5) * [80, 60, 20][i % 3]);
    const hull = new HullExit(points);
    for (let k = 0; k < 40; k++) {
      const d = [0, 1, 2].map(() => random() - 0.5);
      const t = hull.exit(0, 0, 0, d[0], d[1], d[2]);
      // Inside: a little less far, every direction still has a point beyond. Outside: a little farther, some direction has none.
      const gap = (share: number): number => separation(points, d.map((c) => share * t * c));
      expect(gap(0.97)).toBeLessThan(0.05);
      expect(gap(1.03)).toBeGreaterThan(0.05);
    }
  });
});

/** Distance from a point to the hull of points, by the method of Frank and Wolfe: slow, plain and independent. */
function separation(points: Float64Array, at: readonly number[]): number {
  const x = [points[0], points[1], points[2]];
  for (let round = 0; round < 4_000; round++) {
    const g = x.map((c, k) => c - at[k]);
    let best = 0;
    for (let i = 3; i < points.length; i += 3) {
      if (g[0] * (points[i] - points[best]) + g[1] * (points[i + 1] - points[best + 1]) + g[2] * (points[i + 2] - points[best + 2]) < 0) best = i;
    }
    const step = x.map((c, k) => points[best + k] - c);
    const along = -(g[0] * step[0] + g[1] * step[1] + g[2] * step[2]);
    const size = step[0] ** 2 + step[1] ** 2 + step[2] ** 2;
    if (along < 1e-7 || size === 0) break;
    const share = Math.min(1, along / size);
    for (let k = 0; k < 3; k++) x[k] += share * step[k];
    if (Math.hypot(x[0] - at[0], x[1] - at[1], x[2] - at[2]) < 5e-4) break;
  }
  return Math.hypot(x[0] - at[0], x[1] - at[1], x[2] - at[2]);
}
