import { describe, expect, it } from 'vitest';
import { soleLevel } from '@cast-to-last/foot/position/level';
import { plateSupport } from '@cast-to-last/foot/position/plate-support';
import type { Plates } from '@cast-to-last/foot/position/plates';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import type { Side } from '@cast-to-last/foot/side';
import { landmarksFor, soleSheet, standing } from '../../support/standing.ts';

const TILT = { a: 0.01, b: 0.02 };

/** Rear plate that slopes against the frame, with a front one that meets it at 200 mm. */
const platesFor = (side: Side): Plates => {
  const rear = { a: TILT.a, b: (side === 'right' ? 1 : -1) * TILT.b, c: 0 };
  return { rear, front: { a: rear.a + 0.2, b: rear.b, c: -0.2 * 200 } };
};

function on(off: (x: number, y: number) => number, side: Side = 'right') {
  const { rear, front } = platesFor(side);
  const height = (x: number, y: number): number => Math.max(rear.a * x + rear.b * y + rear.c, front.a * x + front.b * y + front.c) + off(x, y);
  const cast = standing(soleSheet(height), { side, landmarks: landmarksFor(side) });
  const sole = soleVertices(cast);
  return { support: plateSupport(cast, sole, platesFor(side)), level: soleLevel(cast, sole, platesFor(side)), byPoints: soleLevel(cast, sole) };
}

describe('plateSupport', () => {
  it('is how far pressed surface reaches beyond the middle in the direction in which it reaches least', () => {
    expect(on(() => 0).support).toBeGreaterThan(36);
    expect(on((_x, y) => (Math.abs(y) > 20 ? 3 : 0)).support).toBeGreaterThanOrEqual(16);
    expect(on((_x, y) => (Math.abs(y) > 20 ? 3 : 0)).support).toBeLessThanOrEqual(20);
  });

  it('is nothing under a sole that would tip off the plate', () => {
    expect(on((x) => (x > 90 ? 2 : 0)).support).toBe(0);
  });
});

describe('the level of a sole that a plate carries', () => {
  it.each(['left', 'right'] as const)('is that of the plate, whatever ridges were left on it (%s)', (side) => {
    // Two ridges along the outer edge, too long to be a bump.
    const m = side === 'right' ? 1 : -1;
    const { level, byPoints } = on((x, y) => (m * y < -32 && ((x > 25 && x < 60) || (x > 140 && x < 180)) ? -1.2 : 0), side);
    expect(level.carried).toBe(true);
    expect(level.roll).toBeCloseTo(Math.atan(TILT.b), 9);
    expect(level.pitch).toBeCloseTo(Math.atan(TILT.a), 9);
    expect(Math.abs(byPoints.roll - Math.atan(TILT.b))).toBeGreaterThan(0.5 * (Math.PI / 180));
  });

  it('is that of what it rests on where the plate carries the heel alone', () => {
    const { level, byPoints } = on((x) => (x > 90 ? 2 : 0));
    expect(level).toEqual(byPoints);
    expect(level.carried).toBe(false);
  });
});
