import { describe, expect, it } from 'vitest';
import { soleFlatness } from '@cast-to-last/foot/position/sole-flatness';
import { solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import { plateSole, standing } from '../../support/standing.ts';

const flatness = (off: (x: number, y: number) => number) => {
  const cast = standing(plateSole({ bend: 12, hinge: 180, off }));
  const sole = soleVertices(cast);
  const planes = solePlanes(cast, sole);
  return planes === null ? null : soleFlatness(cast, sole, planes);
};

describe('soleFlatness', () => {
  it('is nothing on plates, however high the arch and the hollow behind the toes', () => {
    const found = flatness((x, y) => 15 * Math.exp(-(((x - 100) / 22) ** 2)) / (1 + Math.exp(-(y - 10) / 4)) + 4 * Math.exp(-(((x - 203) / 3) ** 2)));
    expect(found?.rms).toBeLessThan(0.1);
    expect(found?.area).toBeGreaterThan(2000);
  });

  it('is the root mean square of a heel and an outer border that stand off, with their place', () => {
    // The seats behind the ball, 3 mm off on the outer side only; the plane still rests on the inner side and the ball.
    const found = flatness((x, y) => (y < 0 && x > 20 && x < 145 ? 3 : 0));
    expect(found?.worst[1]).toBeLessThan(0);
    expect(found?.rms).toBeGreaterThan(1);
    expect(found?.rms).toBeLessThan(3);
  });

  it('grows in step with what stands off', () => {
    const raised = (height: number) => flatness((x, y) => (y < 0 && x > 20 && x < 145 ? height : 0))?.rms ?? NaN;
    expect(raised(6) / raised(3)).toBeGreaterThan(1.8);
    expect(raised(6) / raised(3)).toBeLessThan(2.2);
  });
});
