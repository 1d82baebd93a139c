import { describe, expect, it } from 'vitest';
import { triangulatePolygon } from '@cast-to-last/geometry/formats/triangulate-polygon';
import { rng } from '../../support/rng.ts';

/** Triangles of a polygon with the corners given, its area vector (twice the area), and that of each triangle. */
function split(points: readonly (readonly number[])[]): { triangles: Uint32Array; whole: number[]; parts: number[][] } {
  const positions = Float64Array.from(points.flat());
  const triangles = new Uint32Array(3 * (points.length - 2));
  triangulatePolygon(positions, Uint32Array.from(points, (_, i) => i), triangles, 0);
  const area = (a: readonly number[], b: readonly number[], c: readonly number[]): number[] => {
    const [u, v] = [b.map((x, k) => x - a[k]), c.map((x, k) => x - a[k])];
    return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  };
  const whole = [0, 0, 0];
  for (let k = 1; k < points.length - 1; k++) area(points[0], points[k], points[k + 1]).forEach((c, axis) => (whole[axis] += c));
  const parts = Array.from({ length: points.length - 2 }, (_, i) => area(points[triangles[3 * i]], points[triangles[3 * i + 1]], points[triangles[3 * i + 2]]));
  return { triangles, whole, parts };
}

const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Rim edges of the triangles, each in the direction in which a triangle runs along it. */
function rim(triangles: Uint32Array): string[] {
  const edges = new Set<string>();
  for (let i = 0; i < triangles.length; i++) edges.add(`${triangles[i]}>${triangles[i % 3 === 2 ? i - 2 : i + 1]}`);
  return [...edges].filter((e) => !edges.has(e.split('>').reverse().join('>'))).sort();
}

const expectedRim = (n: number): string[] => Array.from({ length: n }, (_, i) => `${i}>${(i + 1) % n}`).sort();

describe('polygons become triangles', () => {
  it('a dart keeps its hollow, whichever corner it lies at', () => {
    const dart = [[0, 0, 0], [2, 1, 0], [0, 2, 0], [0.5, 1, 0]];
    for (let turn = 0; turn < 4; turn++) {
      const { parts, whole, triangles } = split(dart.map((_, i) => dart[(i + turn) % 4]));
      for (const part of parts) expect(dot(part, whole)).toBeGreaterThan(0);
      expect(rim(triangles)).toEqual(expectedRim(4));
    }
  });
  it('a convex quadrilateral is split along its shorter diagonal', () => {
    expect([...split([[0, 0, 0], [5, -1, 0], [10, 0, 0], [5, 1, 0]]).triangles]).toEqual([1, 2, 3, 1, 3, 0]);
  });
  it.each([11, 12, 13, 14, 15, 16])('a star in any plane keeps area, turning sense and rim (seed %i)', (seed) => {
    const random = rng(seed);
    const R = random.rotation();
    const n = 5 + random.below(60);
    const points = Array.from({ length: n }, (_, i) => {
      const radius = random.range(0.2, 1);
      const [x, y] = [radius * Math.cos((2 * Math.PI * i) / n), radius * Math.sin((2 * Math.PI * i) / n)];
      return [0, 1, 2].map((k) => R[3 * k] * x + R[3 * k + 1] * y + 7 * k);
    });
    const { parts, whole, triangles } = split(points);
    for (const part of parts) expect(dot(part, whole)).toBeGreaterThanOrEqual(-1e-12);
    expect(parts.reduce((sum, part) => sum + Math.hypot(...part), 0)).toBeCloseTo(Math.hypot(...whole), 9);
    expect(rim(triangles)).toEqual(expectedRim(n));
  });
  it.each([
    ['all corners in one place', Array.from({ length: 6 }, () => [1, 1, 1])],
    ['corners on a line', Array.from({ length: 6 }, (_, i) => [i, i, 0])],
    ['a polygon that crosses itself', [[0, 0, 0], [4, 4, 0], [4, 0, 0], [0, 4, 0], [2, 9, 0]]],
  ])('%s: still n − 2 triangles with the same rim', (_, points) => {
    const { triangles } = split(points);
    expect(rim(triangles)).toEqual(expectedRim(points.length));
  });
});
