import { describe, expect, it } from 'vitest';
import { refine, REFINE_DEFAULTS } from '@cast-to-last/geometry/remeshing/refine';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { meanPlane, triangulateLoop } from '@cast-to-last/geometry/repair/triangulate-loop';
import { rng } from '../../support/rng.ts';

const upward = (n: number): Float64Array => Float64Array.from({ length: 3 * n }, (_, i) => (i % 3 === 2 ? 1 : 0));

const shoelace = (points: Float64Array): number => {
  let sum = 0;
  const n = points.length / 3;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    sum += (points[3 * i] * points[3 * j + 1] - points[3 * j] * points[3 * i + 1]) / 2;
  }
  return sum;
};

/** Sum of signed areas and number of triangles that turn right, seen from +z. */
const seenFromAbove = (points: Float64Array, triangles: Uint32Array): { area: number; turned: number } => {
  let area = 0;
  let turned = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => points.subarray(3 * triangles[t + k], 3 * triangles[t + k] + 3));
    const twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    area += twice / 2;
    if (twice <= 0) turned++;
  }
  return { area, turned };
};

const star = (n: number, radius: (angle: number) => number, height: (angle: number) => number): Float64Array => {
  const points = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) {
    const u = (2 * Math.PI * i) / n;
    const r = radius(u);
    points.set([r * Math.cos(u), r * Math.sin(u), height(u)], 3 * i);
  }
  return points;
};

describe('triangulateLoop', () => {
  for (const seed of [41, 42, 43]) {
    it(`covers ragged polygons exactly, without folds (seed ${seed})`, () => {
      const random = rng(seed);
      const n = 40 + random.below(200);
      const points = star(n, () => random.range(6, 12), () => random.range(-0.2, 0.2));
      const { triangles, plane } = triangulateLoop(points, upward(n));
      expect(triangles.length).toBe(3 * (n - 2));
      expect(plane).not.toBeNull();
      const seen = seenFromAbove(points, triangles);
      expect(seen.area).toBeCloseTo(shoelace(points), 8);
      const loops = boundaryLoops({ positions: points, triangles });
      expect(loops.map((loop) => loop.length)).toEqual([n]);
    });
  }

  it('zips a slit whose sides cross in every shadow', () => {
    const random = rng(44);
    const side = 60;
    const points = new Float64Array(6 * side);
    for (let i = 0; i < side; i++) {
      points.set([i, random.range(-0.01, 0.01), Math.sin(i / 9)], 3 * i);
      points.set([side - 1 - i, 0.01 + random.range(-0.01, 0.01), Math.sin((side - 1 - i) / 9)], 3 * (side + i));
    }
    const { triangles } = triangulateLoop(points, upward(2 * side));
    expect(triangles.length).toBe(3 * (2 * side - 2));
    expect(boundaryLoops({ positions: points, triangles }).map((loop) => loop.length)).toEqual([2 * side]);
    let longest = 0;
    for (let h = 0; h < triangles.length; h++) {
      const [a, b] = [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
      longest = Math.max(longest, Math.abs(points[3 * a] - points[3 * b]));
    }
    expect(longest).toBeLessThan(6);
  });

  it('takes another ear where a chord exists outside already', () => {
    const square = new Float64Array([0, 0, 0, 2, 0, 0, 2, 2, 0, 0, 2, 0]);
    for (const taken of [[0, 2], [1, 3]]) {
      const { triangles } = triangulateLoop(square, upward(4), (a, b) => [a, b].sort().join() === taken.join());
      const edges = new Set(Array.from(triangles, (a, h) => [a, triangles[h % 3 === 2 ? h - 2 : h + 1]].sort().join()));
      expect(edges.has(taken.join())).toBe(false);
    }
  });

  it('finds the plane in which a loop encloses most, and none for a line', () => {
    const plane = meanPlane(star(30, () => 5, (u) => 3 * Math.cos(u)));
    const tilt = Math.hypot(5, 3);
    expect(plane?.[6]).toBeCloseTo(-3 / tilt, 9);
    expect(plane?.[8]).toBeCloseTo(5 / tilt, 9);
    expect(meanPlane(new Float64Array([0, 0, 0, 1, 0, 0, 2, 0, 0]))).toBeNull();
  });
});

describe('refine', () => {
  const n = 90;
  const points = star(n, (u) => 15 + 3 * Math.cos(3 * u), (u) => 0.5 * Math.sin(2 * u));
  const { triangles, plane } = triangulateLoop(points, upward(n));
  const rimEdge = 1.1;
  const sizes = new Float64Array(n).fill(rimEdge);

  it('keeps the rim and the area, turns nothing over, and gives even triangles', () => {
    const disc = refine(points, triangles, sizes, plane);
    expect(disc.points.subarray(0, points.length)).toEqual(points);
    const seen = seenFromAbove(disc.points, disc.triangles);
    expect(seen.turned).toBe(0);
    expect(seen.area).toBeCloseTo(shoelace(points), 6);
    expect(boundaryLoops({ positions: disc.points, triangles: disc.triangles }).map((loop) => loop.length)).toEqual([n]);
    const longest = Math.max(
      ...Array.from(disc.triangles, (a, h) => {
        const b = disc.triangles[h % 3 === 2 ? h - 2 : h + 1];
        return Math.hypot(...[0, 1, 2].map((k) => disc.points[3 * a + k] - disc.points[3 * b + k]));
      }),
    );
    expect(longest).toBeLessThan(2 * (rimEdge + REFINE_DEFAULTS.grading * 15));
    expect(disc.triangles.length / 3).toBeGreaterThan(600);
  });

  it('gives a Delaunay triangulation in the plane', () => {
    const flat = points.map((c, i) => (i % 3 === 2 ? 0 : c));
    const loop = triangulateLoop(flat, upward(n));
    const disc = refine(flat, loop.triangles, sizes, loop.plane);
    const twin = twins({ positions: disc.points, triangles: disc.triangles });
    const angle = (h: number): number => {
      const t = h - (h % 3);
      const [a, b, c] = [0, 1, 2].map((k) => 3 * disc.triangles[t + ((h + k) % 3)]);
      const u = [disc.points[a] - disc.points[c], disc.points[a + 1] - disc.points[c + 1]];
      const v = [disc.points[b] - disc.points[c], disc.points[b + 1] - disc.points[c + 1]];
      return Math.acos((u[0] * v[0] + u[1] * v[1]) / (Math.hypot(...u) * Math.hypot(...v)));
    };
    let worst = 0;
    for (let h = 0; h < twin.length; h++) if (twin[h] >= 0) worst = Math.max(worst, angle(h) + angle(twin[h]));
    expect(worst).toBeLessThan(Math.PI + 1e-6);
  });

  it('costs triangles by the length of the rim, not by the area', () => {
    const edge = 0.5;
    const perArea = (radius: number): number => {
      const m = Math.round((2 * Math.PI * radius) / edge);
      const ring = star(m, () => radius, () => 0);
      const loop = triangulateLoop(ring, upward(m));
      const count = refine(ring, loop.triangles, new Float64Array(m).fill(edge), loop.plane).triangles.length / 3;
      return count / ((Math.PI * radius ** 2) / ((Math.sqrt(3) / 4) * edge ** 2));
    };
    expect(perArea(2)).toBeGreaterThan(0.6);
    expect(perArea(12)).toBeLessThan(0.85);
    expect(perArea(48)).toBeLessThan(0.25);
  });

  it('adds nothing to a slit', () => {
    const slit = new Float64Array([0, 0, 0, 1, -0.05, 0, 2, -0.05, 0, 3, 0, 0, 2, 0.05, 0, 1, 0.05, 0]);
    const loop = triangulateLoop(slit, upward(6));
    expect(refine(slit, loop.triangles, new Float64Array(6).fill(1), loop.plane).points.length).toBe(slit.length);
  });
});
