import { describe, expect, it } from 'vitest';
import { restBesideBumps } from '@cast-to-last/foot/position/rest-beside-bumps';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import { soleSheet, standing } from '../../support/standing.ts';

/** Slopes of the plane that a flat sole rests on, with a swelling of a height and a radius at each place, mm. */
function slopes(height: number, radius: number, places: readonly (readonly [number, number])[]): { a: number; b: number } {
  const cast = standing(soleSheet((x, y) => -Math.max(0, ...places.map(([cx, cy]) => height * (1 - ((x - cx) ** 2 + (y - cy) ** 2) / radius ** 2)))));
  const found = restBesideBumps(cast, soleVertices(cast));
  if (found === null) throw new Error('no plane');
  return found;
}

describe('restBesideBumps', () => {
  it('is the plate where small bumps rise out of it', () => {
    for (const places of [[[60, 25]], [[60, 25], [170, -20]], [[30, -25], [100, 25], [170, 30]]] as const) {
      const { a, b } = slopes(1.5, 7, places);
      expect(a).toBeCloseTo(0, 6);
      expect(b).toBeCloseTo(0, 6);
    }
  });

  it('rests on what swells over a wide place, as a ball of the foot does', () => {
    // It carries the plane together with the rear edge, 170 mm behind it.
    const { a } = slopes(1.2, 32, [[170, -20]]);
    expect(a).toBeLessThan(-0.9 * (1.2 / 170));
    expect(a).toBeGreaterThan(-1.1 * (1.2 / 170));
  });

  it('is none where no three points carry it', () => {
    const cast = standing(soleSheet(() => 0));
    expect(restBesideBumps(cast, soleVertices(cast).filter((v) => cast.mesh.positions[3 * v] > 200))).toBeNull();
  });
});
