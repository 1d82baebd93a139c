import { describe, expect, it } from 'vitest';
import { outermost } from '@cast-to-last/foot/ball-point';
import { noisy } from '../support/disturb.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { rng } from '../support/rng.ts';

/** Edges of about 1.5 mm; the curvature radii of a foot's ball: 60 mm along it, 18 mm from top to sole at y = ± 45. */
const HALF: [number, number, number] = [52, 45, 28.5];
const CENTRE: [number, number, number] = [180, 3, 30];
const body = ellipsoid(HALF, CENTRE, 5);
const SPACING = 1.6;

const off = (found: readonly number[] | null, place: readonly number[]): number => (found === null ? Infinity : Math.hypot(...place.map((c, k) => c - found[k])));

describe('outermost point of an outline', () => {
  it.each([1, -1])('is the end of an ellipsoid\'s axis on the side asked for (%i)', (direction) => {
    const found = outermost(body.positions, 160, 200, SPACING, direction);
    expect(found?.[1]).toBeCloseTo(CENTRE[1] + direction * HALF[1], 1);
    // The axis' end is no vertex's place; the fit may lie 0.2 mm off it along the outline, where that drops 0.0003 mm.
    expect(off(found, [CENTRE[0], CENTRE[1] + direction * HALF[1], CENTRE[2]])).toBeLessThan(0.2);
  });

  it.each([[0.5, 100], [0.6, 120]])('of a child\'s foot lies where it lies on the same foot grown up (%d times as large)', (factor, length) => {
    const large = outermost(body.positions, 150, 190, SPACING, 1, 200) ?? [];
    const small = outermost(body.positions.map((c) => factor * c), 150 * factor, 190 * factor, SPACING * factor, 1, length);
    expect(off(small, large.map((c) => factor * c))).toBeLessThan(1e-6);
  });

  it.each([[185, 215, 185], [150, 172, 172]])('is on the window\'s edge where the outline goes on beyond it: %i to %i mm', (from, to, expected) => {
    const found = outermost(body.positions, from, to, SPACING, 1);
    expect(found?.[0]).toBeCloseTo(expected, 6);
    const y = CENTRE[1] + HALF[1] * Math.sqrt(1 - ((expected - CENTRE[0]) / HALF[0]) ** 2);
    expect(found?.[1]).toBeCloseTo(y, 1);
    expect(Math.abs((found?.[2] ?? 0) - CENTRE[2])).toBeLessThan(0.3);
  });

  it('errs less by noise of 0.05 mm than the extreme vertex does: RMS over 20 seeds below 0.8 mm along the outline, and below half of the vertex\'s', () => {
    let [fit, vertex] = [0, 0];
    for (let seed = 1; seed <= 20; seed++) {
      const { positions } = noisy(body, 0.05, rng(seed));
      fit += ((outermost(positions, 160, 200, SPACING, 1)?.[0] ?? 0) - CENTRE[0]) ** 2 / 20;
      let extreme = 0;
      for (let i = 0; i < positions.length; i += 3) if (positions[i + 1] > positions[extreme + 1]) extreme = i;
      vertex += (positions[extreme] - CENTRE[0]) ** 2 / 20;
    }
    expect(Math.sqrt(fit)).toBeLessThan(0.8);
    expect(Math.sqrt(fit)).toBeLessThan(0.5 * Math.sqrt(vertex));
  });

  it('is a vertex where only few lie there, and none where none does', () => {
    const few = Float64Array.from([0, 1, 5, 10, 3, 5, 20, 2, 5]);
    expect(outermost(few, -1, 21, 5, 1)).toEqual([10, 3, 5]);
    expect(outermost(few, -1, 21, 5, -1)).toEqual([0, 1, 5]);
    expect(outermost(few, 30, 40, 5, 1)).toBeNull();
    expect(outermost(new Float64Array(0), 0, 1, 5, 1)).toBeNull();
  });
});
