import { describe, expect, it } from 'vitest';
import { restPlaneUnder } from '@cast-to-last/foot/rest-plane';
import { icosphere } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

const heightOver = (p: Float64Array, i: number, { a, b, c }: { a: number; b: number; c: number }): number => p[3 * i + 2] - a * p[3 * i] - b * p[3 * i + 1] - c;

/** The height at (x, y) of the highest of all planes through three points that have no point below them. */
function highestSupport(p: Float64Array, x: number, y: number): number {
  const n = p.length / 3;
  let best = -Infinity;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      for (let k = j + 1; k < n; k++) {
        const [ux, uy, uz] = [0, 1, 2].map((e) => p[3 * j + e] - p[3 * i + e]);
        const [vx, vy, vz] = [0, 1, 2].map((e) => p[3 * k + e] - p[3 * i + e]);
        const nz = ux * vy - uy * vx;
        if (Math.abs(nz) < 1e-12) continue;
        const a = -(uy * vz - uz * vy) / nz;
        const b = -(uz * vx - ux * vz) / nz;
        const plane = { a, b, c: p[3 * i + 2] - a * p[3 * i] - b * p[3 * i + 1] };
        let supports = true;
        for (let m = 0; supports && m < n; m++) supports = heightOver(p, m, plane) >= -1e-9;
        // Of a hull's facets only the one over (x, y) is as low there as the hull; every other plane under all points is lower.
        if (supports) best = Math.max(best, a * x + b * y + plane.c);
      }
    }
  }
  return best;
}

describe('rest plane', () => {
  it.each(Array.from({ length: 12 }, (_, i) => i + 1))('is the highest of the planes under all points, carried by three of them (seed %i)', (seed) => {
    const random = rng(seed);
    const count = 5 + random.below(26);
    const p = Float64Array.from({ length: 3 * count }, (_, i) => (i % 3 === 2 ? random.range(0, seed % 3 === 0 ? 0.01 : 40) : random.range(-100, 100)));
    // The middle of three points lies inside their outline.
    const [x, y] = [0, 1].map((k) => (p[k] + p[3 + k] + p[6 + k]) / 3);
    const plane = restPlaneUnder(p, x, y)!;
    expect(plane.a * x + plane.b * y + plane.c).toBeCloseTo(highestSupport(p, x, y), 8);
    for (let i = 0; i < count; i++) expect(heightOver(p, i, plane)).toBeGreaterThan(-1e-8);
    expect(new Set(plane.carriers).size).toBe(3);
    for (const i of plane.carriers) expect(Math.abs(heightOver(p, i, plane))).toBeLessThan(1e-8);
  });

  it('is the facet of a roof under the point, whatever stands higher', () => {
    // z = |x| / 4 over a square of 200 mm, and a point above it.
    const p = Float64Array.from([-100, -100, 25, -100, 100, 25, 0, -100, 0, 0, 100, 0, 100, -100, 25, 100, 100, 25, 20, 0, 90]);
    const right = restPlaneUnder(p, 30, 5)!;
    expect(right.a).toBeCloseTo(0.25, 12);
    expect(Math.hypot(right.b, right.c)).toBeCloseTo(0, 10);
    expect(restPlaneUnder(p, -30, 5)?.a).toBeCloseTo(-0.25, 12);
  });

  it('under 4,000 points of a sole with noise of 0.05 mm touches three and cuts none (seed 20)', () => {
    const random = rng(20);
    const p = Float64Array.from({ length: 12_000 }, () => 0);
    for (let i = 0; i < p.length; i += 3) {
      [p[i], p[i + 1]] = [random.range(0, 260), random.range(-40, 40)];
      p[i + 2] = 12 * Math.sin((Math.PI * p[i]) / 260) ** 2 + 0.002 * p[i + 1] ** 2 + 0.05 * random.normal();
    }
    const plane = restPlaneUnder(p, 110, 3)!;
    let touching = 0;
    for (let i = 0; i < p.length / 3; i++) {
      const over = heightOver(p, i, plane);
      expect(over).toBeGreaterThan(-1e-8);
      if (over < 1e-8) touching++;
    }
    expect(touching).toBe(3);
  });

  it('under many points in one plane, and under a sphere\'s lowest, is that plane', () => {
    const raster = Float64Array.from(Array.from({ length: 100 }, (_, i) => [i % 10, Math.floor(i / 10), 0.1 * (i % 10) - 7]).flat());
    const { a, b, c } = restPlaneUnder(raster, 4.5, 4.5)!;
    expect([a, b, c]).toEqual([expect.closeTo(0.1, 9), expect.closeTo(0, 9), expect.closeTo(-7, 9)]);
    const ball = restPlaneUnder(icosphere(50, 3).positions, 0.2, 0.1)!;
    expect(Math.hypot(ball.a, ball.b)).toBeLessThan(0.1);
    expect(ball.c).toBeCloseTo(-50, 0);
  });

  it('is none where the point lies outside the outline, or nothing has an outline', () => {
    const square = Float64Array.from([0, 0, 0, 10, 0, 0, 10, 10, 0, 0, 10, 0]);
    expect(restPlaneUnder(square, 11, 5)).toBeNull();
    expect(restPlaneUnder(Float64Array.from([0, 0, 0, 10, 0, 0]), 5, 0)).toBeNull();
    expect(restPlaneUnder(new Float64Array(0), 0, 0)).toBeNull();
  });
});
