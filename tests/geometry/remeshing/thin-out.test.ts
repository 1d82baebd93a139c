import { describe, expect, it } from 'vitest';
import { thinOut } from '@cast-to-last/geometry/remeshing/thin-out';
import { icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

describe('thinned-out points', () => {
  it.each([[1, 7], [2, 13], [3, 60], [4, 400]])('are the means of the cells of a raster, one for each that holds a point (seed %i, cell %i mm)', (seed, cell) => {
    const random = rng(seed);
    const points = Array.from({ length: 800 }, () => [random.range(-90, 120), random.range(3, 50), 60 * random.normal()]);
    const low = [0, 1, 2].map((k) => Math.min(...points.map((p) => p[k])));
    const cells = new Map<string, number[][]>();
    for (const p of points) {
      const key = p.map((c, k) => Math.floor((c - low[k]) / cell)).join();
      cells.set(key, [...(cells.get(key) ?? []), p]);
    }
    const expected = [...cells.values()].map((inside) => [0, 1, 2].map((k) => inside.reduce((sum, p) => sum + p[k], 0) / inside.length));
    const found = thinOut(Float64Array.from(points.flat()), cell);
    const sorted = (rows: readonly (readonly number[])[]): string[] => rows.map((r) => r.map((c) => c.toFixed(6)).join()).sort();
    expect(sorted(Array.from({ length: found.length / 3 }, (_, i) => [...found.subarray(3 * i, 3 * i + 3)]))).toEqual(sorted(expected));
  });

  it('leave one point of all in a great cell, and all of them in small ones', () => {
    const { positions } = icosphere(50, 2);
    expect(thinOut(positions, 500).length).toBe(3);
    expect(thinOut(positions, 0.5).length).toBe(positions.length);
    expect(thinOut(new Float64Array(0), 5).length).toBe(0);
  });
});
