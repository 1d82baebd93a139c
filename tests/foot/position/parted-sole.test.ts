import { describe, expect, it } from 'vitest';
import { rolledBend, sunkBend } from '@cast-to-last/foot/position/parted-sole';
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

describe('sunkBend', () => {
  /** A heel seat that goes down by so many degrees behind 75 mm, on a foot that lies on heel and ball: the plate slopes. */
  const read = (down: number) => {
    const cast = standing(plateSole({ bend: 12, hinge: 187, off: (x, y) => -Math.tan(down * RAD) * Math.max(0, 75 - x) + (x > 80 && x < 110 && y > 0 ? 12 : 0) }));
    const sole = soleVertices(cast);
    const planes = solePlanes(cast, sole) as SolePlanes;
    return { found: sunkBend(cast, sole, planes, planes.rear), rest: sunkBend(cast, sole, planes, { a: Math.tan((down * RAD) / 3), b: 0, c: 0 }) };
  };

  it('is that of ball and toes where the heel seat goes down off the plate', () => {
    for (const found of Object.values(read(7))) expect((found?.bend ?? NaN) / RAD).toBeCloseTo(12, 1);
    expect(read(7).found?.rear.a).toBeCloseTo(0, 3);
  });

  it('is none of a heel that lies on its plate, or was lifted', () => {
    for (const down of [0, 2, -7]) expect(read(down).found).toBeNull();
  });
});
