import { describe, expect, it } from 'vitest';
import { unrest } from '@cast-to-last/pipeline/marks/unrest';
import { rng } from '../../support/rng.ts';

/** A square of places 1 mm apart, their distance from a mark of 5 mm radius in the middle, and their heights. */
function square(height: (u: number, v: number) => number): { flat: Float64Array; heights: Float64Array; gap: Float64Array } {
  const places: number[] = [];
  for (let u = -15; u <= 15; u++) for (let v = -15; v <= 15; v++) places.push(u, v);
  const flat = Float64Array.from(places);
  const at = (f: (u: number, v: number) => number): Float64Array => Float64Array.from({ length: places.length / 2 }, (_, i) => f(flat[2 * i], flat[2 * i + 1]));
  return { flat, heights: at(height), gap: at((u, v) => Math.hypot(u, v) - 5) };
}

const of = (height: (u: number, v: number) => number, ringError = 0): number => {
  const { flat, heights, gap } = square(height);
  return unrest(flat, heights, gap, 2, 6, [0, 0], ringError);
};

describe('how much an annulus stands off', () => {
  it('is the height of a rim all round it', () => expect(of(() => 0.3)).toBeCloseTo(0.3, 12));

  it('leaves out what lies nearer or farther', () => expect(of((u, v) => (Math.hypot(u, v) <= 7 || Math.hypot(u, v) > 11 ? 5 : 0.2))).toBeCloseTo(0.2, 12));

  it('counts a flank that rises on one side and falls on the other', () => expect(of((u) => 0.4 * Math.sign(u || 1))).toBeGreaterThan(0.25));

  it('is nothing in noise, and a rim half as high as the noise is still seen (seed 3)', () => {
    const random = rng(3);
    const noise = (): number => 0.1 * random.normal();
    expect(of(noise, 0.1 / 1.8)).toBeLessThan(0.03);
    expect(of(() => noise() + 0.05, 0.1 / 1.8)).toBeGreaterThan(0.03);
  });

  it('is beyond every bound where the annulus is empty', () => {
    const { flat, heights, gap } = square(() => 0);
    expect(unrest(flat, heights, gap, 40, 50, [0, 0], 0)).toBe(Infinity);
  });
});
