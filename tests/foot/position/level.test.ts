import { describe, expect, it } from 'vitest';
import { soleLevel } from '@cast-to-last/foot/position/level';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { Side } from '@cast-to-last/foot/side';
import { landmarksFor, soleSheet, standing } from '../../support/standing.ts';

const level = (height: (x: number, y: number) => number, side: Side = 'right') => {
  const cast = standing(soleSheet(height), { side, landmarks: landmarksFor(side) });
  return soleLevel(cast, soleVertices(cast));
};

/** As a foot's own sole: a round heel seat and two round heads of the ball, the arch between them. */
const round = (x: number, y: number): number =>
  0.01 * (x > 110 ? (Math.abs(y) - 20) ** 2 : y * y) + (x < 70 ? 0.01 * (x - 40) ** 2 : x > 150 ? 0.01 * (x - 180) ** 2 : 9);

describe('soleLevel', () => {
  it('is nothing where the frame stands on the sole', () => {
    for (const sole of [() => 0, round]) {
      expect(Math.abs(level(sole).roll)).toBeLessThan(1e-3);
      expect(Math.abs(level(sole).pitch)).toBeLessThan(1e-3);
    }
  });

  it.each(['left', 'right'] as const)('is that of the plate on which the sole of a %s foot was pressed, whatever tilts the frame', (side) => {
    const m = side === 'right' ? 1 : -1;
    // Bumps that were left carry the frame: the plate slopes against it.
    const found = level((x, y) => 0.02 * x + 0.03 * m * y - (Math.hypot(x - 40, y - 25 * m) < 5 ? 1.5 : 0), side);
    expect(found.pitch).toBeCloseTo(Math.atan(0.02), 4);
    expect(found.roll).toBeCloseTo(Math.atan(0.03), 4);
  });

  it.each(['left', 'right'] as const)('is that of the sole ahead of a tilted heel (%s foot)', (side) => {
    const m = side === 'right' ? 1 : -1;
    const cast = standing(soleSheet((x, y) => Math.max(0, 0.05 * (70 - x)) + 0.03 * x + 0.02 * m * y), { side, landmarks: landmarksFor(side) });
    const ahead = { a: 0.03, b: 0.02 * m, c: 0 };
    const found = soleLevel(cast, soleVertices(cast), { rear: ahead, front: ahead }, ahead);
    expect(found).toEqual({ pitch: Math.atan(0.03), roll: Math.atan(0.02), apart: 0, carried: true });
    // Where no plates show, what lies ahead tells the pitch alone.
    const unplated = soleLevel(cast, soleVertices(cast), null, ahead);
    expect(unplated).toEqual({ ...soleLevel(cast, soleVertices(cast)), pitch: Math.atan(0.03) });
  });

  it('takes a ridge off a sole that was pressed on nothing', () => {
    const tilt = 1.5 / 70;
    for (const side of ['left', 'right'] as const) {
      const m = side === 'right' ? 1 : -1;
      // It touches under the heel and across the ball alone, and a ridge 4 mm broad at the inner edge carries it.
      const arch = (x: number, y: number): number => ((x > 25 && x < 45 && Math.abs(y) < 10) || (x > 164 && x < 172) ? 0 : 0.3 * Math.min(Math.abs(x - 168), 20));
      const { roll, pitch } = level((x, y) => tilt * (m * y + 36) + arch(x, y) - 1.5 * Math.exp(-(((m * y - 34) / 2.5) ** 2)) * +(x > 100), side);
      expect(roll).toBeGreaterThan(0.2 * tilt);
      expect(roll).toBeLessThan(1.2 * tilt);
      expect(Math.abs(pitch)).toBe(0);
    }
  });
});
