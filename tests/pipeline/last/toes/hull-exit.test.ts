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

  it('leaves the hull of random points through the facet that a search of all triangles finds', () => {
    const { next: random } = rng(SEED + 1);
    const points = Float64Array.from({ length: 180 }, (_, i) => (random() - 0.5) * [80, 60, 20][i % 3]);
    const facets = facetsOf(points);
    expect(facets.length).toBeGreaterThan(20);
    const hull = new HullExit(points);
    for (let k = 0; k < 500; k++) {
      const c = [10, 10, 3].map((size) => size * (random() - 0.5));
      const d = [0, 1, 2].map(() => random() - 0.5);
      const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
      const wanted = facets.reduce((least, { normal, offset }) => {
        const towards = dot(normal, d);
        return towards > 0 ? Math.min(least, (offset - dot(normal, c)) / towards) : least;
      }, Infinity);
      expect(Math.abs(hull.exit(c[0], c[1], c[2], d[0], d[1], d[2]) - wanted)).toBeLessThan(1e-3 * wanted);
    }
  });
});

/** Every plane through three of the points that none of them lies beyond. */
function facetsOf(points: Float64Array): { normal: number[]; offset: number }[] {
  const at = (i: number): number[] => [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
  const count = points.length / 3;
  const out: { normal: number[]; offset: number }[] = [];
  for (let a = 0; a < count; a++) {
    for (let b = a + 1; b < count; b++) {
      for (let c = b + 1; c < count; c++) {
        const [p, q, r] = [at(a), at(b), at(c)];
        const u = q.map((x, k) => x - p[k]);
        const v = r.map((x, k) => x - p[k]);
        const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
        const size = Math.hypot(...cross);
        for (const sign of [1, -1]) {
          const normal = cross.map((x) => (sign * x) / size);
          const offset = normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2];
          let beyond = false;
          for (let i = 0; i < points.length && !beyond; i += 3) beyond = normal[0] * points[i] + normal[1] * points[i + 1] + normal[2] * points[i + 2] > offset + 1e-9;
          if (!beyond) out.push({ normal, offset });
        }
      }
    }
  }
  return out;
}
