import { describe, expect, it } from 'vitest';
import { legEnd, standsOnLeg } from '@cast-to-last/foot/leg-end';
import { turned } from '../support/turned.ts';

const LENGTH = 260;

describe('legEnd', () => {
  it('is the height of a flat cap, less what the edge round it is rounded over', () => {
    expect(legEnd(turned([[40, 0], [40, 150], [0, 150]]), LENGTH)).toBeCloseTo(148, 6);
  });

  it('is nowhere on a leg that is open at the top, narrow above the ankle or not', () => {
    expect(legEnd(turned([[40, 0], [40, 150]]), LENGTH)).toBe(Infinity);
    expect(legEnd(turned([[45, 0], [34, 110], [40, 150], [58, 300]]), LENGTH)).toBe(Infinity);
  });

  it('is the ledge under a rod, however far the rod reaches', () => {
    for (const radius of [6, 16, 25]) {
      for (const top of [170, 330]) expect(legEnd(turned([[40, 0], [40, 150], [radius, 150], [radius, top], [0, top]]), LENGTH), `${radius} ${top}`).toBeCloseTo(148, 6);
    }
  });

  it('is the underside of a block that is wider than the leg', () => {
    expect(legEnd(turned([[40, 0], [40, 150], [70, 150], [70, 180], [0, 180]]), LENGTH)).toBeCloseTo(148, 6);
  });

  it('is not the top of a foot or of a cut below the ankle', () => {
    expect(legEnd(turned([[120, 0], [40, 80], [38, 160]]), LENGTH)).toBe(Infinity);
    expect(legEnd(turned([[40, 0], [40, 90], [0, 90]]), LENGTH)).toBe(Infinity);
  });
});

describe('standsOnLeg', () => {
  it('tells a rod from a cap, flat or domed', () => {
    expect(standsOnLeg(turned([[40, 0], [40, 150], [10, 150], [10, 250], [0, 250]]), LENGTH)).toBeCloseTo(148, 6);
    expect(standsOnLeg(turned([[40, 0], [40, 150], [0, 150]]), LENGTH)).toBeNull();
    expect(standsOnLeg(turned([[40, 0], [40, 150], [35, 165], [25, 175], [0, 180]]), LENGTH)).toBeNull();
    expect(standsOnLeg(turned([[40, 0], [40, 150]]), LENGTH)).toBeNull();
  });
});
