import { describe, expect, it } from 'vitest';
import { sectionOnce } from '@cast-to-last/geometry/sections/section-once';
import { section } from '@cast-to-last/geometry/sections/section';
import { smoothLine } from '@cast-to-last/geometry/sections/smooth-line';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { icosphere, uvTorus } from '../../support/meshes.js';

const circle = (radius: number, count: number): Float64Array => Float64Array.from({ length: 2 * count }, (_, i) => radius * (i % 2 === 0 ? Math.cos : Math.sin)((2 * Math.PI * Math.floor(i / 2)) / count));

describe('smoothLine', () => {
  it('moves a circle inward by blur² / 2r and keeps it round', () => {
    const out = smoothLine(circle(20, 400), true, 0.5, 1.5);
    const expected = 20 * Math.exp(-0.5 * (1.5 / 20) ** 2);
    for (let i = 0; i < out.length; i += 2) expect(Math.abs(Math.hypot(out[i], out[i + 1]) - expected)).toBeLessThan(0.005);
  });

  it('takes steps off a slanted line, whose ends stay', () => {
    // A staircase along y = x / 10.
    const steps = Float64Array.from(Array.from({ length: 40 }, (_, i) => [5 * Math.floor((i + 1) / 2), 0.5 * Math.floor(i / 2)]).flat());
    const out = smoothLine(steps, false, 0.25, 4);
    expect([out[0], out[1]]).toEqual([steps[0], steps[1]]);
    expect([out[out.length - 2], out[out.length - 1]]).toEqual([steps[78], steps[79]]);
    for (let i = 0; i < out.length; i += 2) if (out[i] > 15 && out[i] < 85) expect(Math.abs(out[i + 1] - (out[i] / 10 - 0.25))).toBeLessThan(0.08);
  });

  it('leaves a straight line straight and evenly divided', () => {
    const out = smoothLine(new Float64Array([0, 0, 3, 0, 10, 0]), false, 1, 2);
    expect(out.length).toBe(22);
    out.forEach((c, i) => expect(c).toBeCloseTo(i % 2 === 0 ? i / 2 : 0, 9));
  });
});

describe('sectionOnce', () => {
  it.each([['sphere', icosphere(30, 4)], ['torus', uvTorus(40, 10, 96, 48)]] as const)('of a %s has the curves that section has', (_, mesh) => {
    for (const [normal, offset] of [[[0, 0, 1], 3.3], [[1, 0, 0], 4.1], [[0.6, 0, 0.8], -2.2], [[0, 1, 0], 90]] as const) {
      const [once, indexed] = [sectionOnce(mesh, normal, offset), section(mesh, twins(mesh), normal, offset)];
      const shape = (curves: typeof once) => curves.map((c) => [c.closed, c.points.length, c.points.reduce((sum, p) => sum + p, 0).toFixed(6)]).sort((a, b) => (String(a) < String(b) ? -1 : 1));
      expect(shape(once)).toEqual(shape(indexed));
    }
  });
});
