import { describe, expect, it } from 'vitest';
import { castingParticulars } from '@cast-to-last/pipeline/sheet/casting-particulars';
import { castingOf, parseOrder } from '@cast-to-last/pipeline/order';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';

const particulars = (order: object, side: 'left' | 'right' = 'left'): Record<string, string> =>
  Object.fromEntries(castingParticulars(castingOf(parseOrder({ orderNumber: '1', ...order })), side, wordsOf('en')).map(({ label, text }) => [label, text]));

describe('castingParticulars', () => {
  it('say nothing of what the order leaves out', () => {
    expect(particulars({})).toEqual({});
    expect(particulars({ plan: {}, plaster: {}, drying: {}, tape: { right: { 'ball-girth': 240 } } })).toEqual({});
  });

  it('give the footbed with the angles that follow from it', () => {
    // sin 30° = 1/2 and a 5-12-13 triangle: 22.6°.
    const footbed = { heelHeightMm: 100, hingeHeightMm: 10, toeHeightMm: 40, heelToHingeMm: 180, hingeToToeMm: 78 };
    expect(particulars({ footbed }).Footbed).toBe('heel 100, hinge 10, toes 40 mm; plates 180 and 78 mm: heel pitch 30.0°, toe pitch 22.6°');
  });

  it('give the rest in words, the tape of the side alone', () => {
    expect(particulars({
      discipline: 'skating-type', load: 'half', plan: { forwardLeanDeg: 6, rearViewDeg: -3, note: 'knees let out' }, plaster: { layers: 6, wallMm: 3.5 },
      drying: { how: 'in the air', hours: 48 }, tape: { left: { 'foot-length': 262, 'ball-girth': 248.5 }, right: { 'foot-length': 260 } },
    })).toEqual({
      Discipline: 'skating-type', Load: 'half of the weight', Agreed: 'forward lean 6.0°, rear view −3.0°, knees let out', Plaster: '6 layers, wall 3.5 mm', Drying: 'in the air, 48 h',
      'Own tape': 'foot length 262, ball girth 248.5 (mm)',
    });
    expect(particulars({ drying: { hours: 2 } }).Drying).toBe('2 h');
  });
});
