import { describe, expect, it } from 'vitest';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { rng } from '../../support/rng.ts';

/** Points of the plane z = 0 as x, y, z. */
const flat = (...points: readonly (readonly [number, number])[]): Float64Array => Float64Array.from(points.flatMap(([x, y]) => [x, y, 0]));
const X = [1, 0, 0];
const Y = [0, 1, 0];

/** The perimeter of the hull by its definition: an edge joins two points that have all others on one side of their line. */
function hullByDefinition(points: readonly (readonly [number, number])[]): number {
  let length = 0;
  for (const p of points) {
    for (const q of points) {
      if (p === q) continue;
      const side = points.map((r) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
      if (side.every((s) => s >= 0)) length += Math.hypot(q[0] - p[0], q[1] - p[1]);
    }
  }
  return length;
}

/** The same by Cauchy's formula: the integral over half a turn of the width across each direction. */
function hullByWidths(points: readonly (readonly [number, number])[]): number {
  const steps = 20_000;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const [c, s] = [Math.cos((Math.PI * i) / steps), Math.sin((Math.PI * i) / steps)];
    let [low, high] = [Infinity, -Infinity];
    for (const [x, y] of points) {
      low = Math.min(low, c * x + s * y);
      high = Math.max(high, c * x + s * y);
    }
    sum += high - low;
  }
  return (sum * Math.PI) / steps;
}

describe('tape round points', () => {
  it('is the perimeter of a rectangle whatever lies inside or on its sides, and bridges hollows', () => {
    const tape = tapeRound(flat([0, 0], [30, 0], [15, 0], [30, 40], [15, 20], [0, 40], [10, 39], [0, 20]), X, Y);
    expect(tape.length).toBeCloseTo(140, 12);
    expect([...tape.corners].sort((a, b) => a - b)).toEqual([0, 1, 3, 5]);
    expect(tapeRound(flat([0, 0], [10, 0], [10, 10], [5, 2], [0, 10]), X, Y).length).toBeCloseTo(40, 12);
  });

  it('of a circle of 720 points is 1440·r·sin(π/720), and has each as a corner', () => {
    const points = Array.from({ length: 720 }, (_, i): [number, number] => [35 * Math.cos((Math.PI * i) / 360), 35 * Math.sin((Math.PI * i) / 360)]);
    const tape = tapeRound(flat(...points), X, Y);
    expect(tape.length).toBeCloseTo(1440 * 35 * Math.sin(Math.PI / 720), 9);
    expect(tape.corners.length).toBe(720);
  });

  it.each([1, 2, 3, 4, 5, 6])('of random points is that of the definition and of Cauchy\'s formula (seed %i)', (seed) => {
    const random = rng(seed);
    const points = Array.from({ length: 3 + random.below(40) }, (): [number, number] => [50 * random.normal(), 20 * random.normal()]);
    const { length } = tapeRound(flat(...points), X, Y);
    expect(length).toBeCloseTo(hullByDefinition(points), 8);
    // The width has corners; each of at most 40 errs by (length of an edge)·(π/20000)²/8.
    expect(length / hullByWidths(points)).toBeCloseTo(1, 6);
  });

  it.each([7, 8])('of points on a coarse raster, many of them in line or the same, is that of the definition (seed %i)', (seed) => {
    const random = rng(seed);
    const points = Array.from({ length: 60 }, (): [number, number] => [random.below(6), random.below(5)]);
    const distinct = [...new Map(points.map((p) => [p.join(), p])).values()];
    const tape = tapeRound(flat(...points), X, Y);
    expect(tape.length).toBeCloseTo(hullByWidths(distinct), 5);
    // Corners turn left, each of them: none lies in line with its neighbours.
    const line = [...tape.corners].map((i) => points[i]);
    line.forEach(([x, y], i) => {
      const [[ax, ay], [bx, by]] = [line.at(i - 1) as [number, number], line[(i + 1) % line.length]];
      expect((x - ax) * (by - y) - (y - ay) * (bx - x)).toBeGreaterThan(0);
    });
    expect(new Set([...tape.corners].map((i) => points[i].join())).size).toBe(tape.corners.length);
  });

  it.each([9, 10])('is the same in any plane, and its line runs through the corners\' points (seed %i)', (seed) => {
    const random = rng(seed);
    const r = random.rotation();
    const [u, v, n] = [r.subarray(0, 3), r.subarray(3, 6), r.subarray(6, 9)];
    const points = Array.from({ length: 50 }, (): [number, number] => [40 * random.normal(), 40 * random.normal()]);
    const turned = Float64Array.from(points.flatMap(([a, b]) => [0, 1, 2].map((k) => a * u[k] + b * v[k] + 17 * n[k])));
    const tape = tapeRound(turned, u, v);
    expect(tape.length).toBeCloseTo(tapeRound(flat(...points), X, Y).length, 9);
    let sum = 0;
    tape.corners.forEach((c, i) => {
      expect([...tape.line.subarray(3 * i, 3 * i + 3)]).toEqual([...turned.subarray(3 * c, 3 * c + 3)]);
      const j = 3 * ((i + 1) % tape.corners.length);
      sum += Math.hypot(tape.line[j] - tape.line[3 * i], tape.line[j + 1] - tape.line[3 * i + 1], tape.line[j + 2] - tape.line[3 * i + 2]);
    });
    expect(sum).toBeCloseTo(tape.length, 9);
  });

  it('of points in line goes there and back; of one point or none it is 0', () => {
    expect(tapeRound(flat([1, 1], [4, 5], [2.5, 3]), X, Y).length).toBeCloseTo(10, 12);
    expect(tapeRound(flat([1, 1], [4, 5]), X, Y).length).toBeCloseTo(10, 12);
    expect(tapeRound(flat([3, 3]), X, Y)).toEqual({ length: 0, line: new Float64Array([3, 3, 0]), corners: new Uint32Array([0]) });
    expect(tapeRound(flat([3, 3], [3, 3]), X, Y).length).toBe(0);
    expect(tapeRound(new Float64Array(0), X, Y).length).toBe(0);
  });
});
