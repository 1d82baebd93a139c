import { describe, expect, it } from 'vitest';
import { besideTiltedHeel, rolledBend } from '@cast-to-last/foot/position/parted-sole';
import type { SolePlanes } from '@cast-to-last/foot/position/sole-planes';
import { solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { Side } from '@cast-to-last/foot/side';
import { landmarksFor, plateSole, standing } from '../../support/standing.ts';

const RAD = Math.PI / 180;

/** A forefoot that rolls about its edge, all of it ahead of 150 mm, more and more of it from 90 mm on; the inner half of the arch stands off. */
const rolled = (roll: number, m: number) => (x: number, y: number): number =>
  Math.tan(roll * RAD) * (m * y + 40) * Math.max(0, Math.min(1, (x - 90) / 60)) + (x > 80 && x < 150 && m * y > 0 ? 12 : 0);

function read(roll: number, side: Side = 'right') {
  const cast = standing(plateSole({ bend: 12, hinge: 187, side, off: rolled(roll, side === 'right' ? 1 : -1) }), { side, landmarks: landmarksFor(side) });
  const sole = soleVertices(cast);
  const planes = solePlanes(cast, sole) as SolePlanes;
  return { planes, found: rolledBend(cast, sole, planes) };
}

describe('rolledBend', () => {
  it.each([[5, 'right'], [8, 'right'], [8, 'left']] as const)('is that of heel and toes under a forefoot rolled by %i° (%s)', (roll, side) => {
    const { planes, found } = read(roll, side);
    expect((found?.bend ?? NaN) / RAD).toBeCloseTo(12, 1);
    expect(Math.abs((found?.bend ?? NaN) / RAD - 12)).toBeLessThan(Math.abs(planes.bend / RAD - 12));
    expect(found?.rear.a).toBeCloseTo(0, 3);
    expect(found?.rear.b).toBeCloseTo(0, 3);
  });

  it('is none of a forefoot that lies on its plate', () => {
    expect(read(0).found).toBeNull();
    expect(read(2).found).toBeNull();
  });
});

describe('besideTiltedHeel', () => {
  /**
   * A heel seat turned by so many degrees (heel up positive) behind 75 mm, on a foot whose ball lies on its plate; the plate
   * slopes by `slope` along the foot, as it does where a heel that sank carries the cast.
   */
  const read = (up: number, { slope = 0, arch = 12 } = {}) => {
    const cast = standing(plateSole({ bend: 12, hinge: 187, off: (x, y) => slope * x + Math.tan(up * RAD) * Math.max(0, 75 - x) + (x > 80 && x < 130 && y > 0 ? arch : 0) }));
    const sole = soleVertices(cast);
    return besideTiltedHeel(cast, sole, solePlanes(cast, sole) as SolePlanes);
  };

  it.each([[-11, 0], [-7, 0], [-7, 0.04], [-4, -0.02], [4, 0], [7, 0], [15, 0.03]])('tells a heel turned by %i° and the plate ahead of it, which slopes by %f', (up, slope) => {
    const found = read(up, { slope });
    expect(found?.rear.a).toBeCloseTo(slope, 3);
    expect(Math.atan(found?.seat.a ?? NaN) / RAD).toBeCloseTo(Math.atan(slope - Math.tan(up * RAD)) / RAD, 1);
    const bend = (Math.atan(slope + Math.tan(12 * RAD)) - Math.atan(slope)) / RAD;
    expect((found?.parted?.bend ?? NaN) / RAD).toBeCloseTo(bend, 1);
    const { positions } = plateSole({ bend: 12, hinge: 187 });
    expect(Math.min(...Array.from(found?.sole ?? [], (v) => positions[3 * v]))).toBeGreaterThanOrEqual(found?.from ?? NaN);
  });

  it('is none of a heel that lies on the plate, nor of a forefoot that was rolled', () => {
    for (const up of [-2, 0, 2]) expect(read(up)).toBeNull();
    const cast = standing(plateSole({ bend: 12, hinge: 187, off: (x, y) => rolled(8, 1)(x, y) + Math.tan(7 * RAD) * Math.max(0, 75 - x) }));
    const sole = soleVertices(cast);
    expect(besideTiltedHeel(cast, sole, solePlanes(cast, sole) as SolePlanes)).toBeNull();
  });

  it('is none of a sole that rocks, whose heel is an arc', () => {
    const cast = standing(plateSole({ bend: 12, hinge: 187, off: (x) => 8 * ((x - 110) / 80) ** 2 }));
    const sole = soleVertices(cast);
    expect(besideTiltedHeel(cast, sole, solePlanes(cast, sole) as SolePlanes)).toBeNull();
  });
});
