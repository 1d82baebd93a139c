import { describe, expect, it } from 'vitest';
import { flapStep } from '@cast-to-last/pipeline/cut/flap-step';
import { ACROSS } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap, lip, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const middle = (ACROSS - 1) / 2;

describe('step from flap to flap', () => {
  it.each([1, 2, 4, 6])('of %f mm is read within a tenth of a millimetre and a twelfth', (height) => {
    for (const sign of [-1, 1]) {
      const read = flapStep(cutMap({ add: (_, u) => flap(sign * height)(u) }), 10, middle);
      expect(Math.abs((read ?? NaN) - sign * height)).toBeLessThan(0.1 + height / 12);
    }
  });

  it('is none on a round top, however round, and on a ridge narrower than its face', () => {
    for (const radius of [25, 40, 80]) expect(flapStep(cutMap({ radius }), 10, middle)).toBeCloseTo(0, 2);
    expect(flapStep(cutMap({ add: (_, u) => seam(2, 1.5)(u) }), 10, middle)).toBeCloseTo(0, 2);
    expect(Math.abs(flapStep(cutMap({ add: (_, u) => lip(1.5, 0)(u) }), 10, middle) ?? NaN)).toBeLessThan(0.3);
  });

  it('has the sign of the flap that stands higher', () => {
    expect(flapStep(cutMap({ add: (_, u) => flap(3)(u) }), 4, middle)).toBeGreaterThan(2);
    expect(flapStep(cutMap({ add: (_, u) => flap(3)(-u) }), 4, middle)).toBeLessThan(-2);
  });

  it('is hardly touched by noise (seed 7)', () => {
    const random = rng(7);
    const map = cutMap({ add: (_, u) => flap(2)(u) + 0.1 * random.normal() });
    for (let s = 0; s < map.stations; s++) expect(Math.abs((flapStep(map, s, middle) ?? NaN) - 2)).toBeLessThan(0.6);
  });

  it('cannot be read near the end of a section', () => {
    expect(flapStep(cutMap(), 10, 12)).toBeNull();
    const map = cutMap();
    map.points.fill(NaN, 3 * (10 * ACROSS + middle + 20), 3 * 11 * ACROSS);
    expect(flapStep(map, 10, middle)).toBeNull();
  });
});
