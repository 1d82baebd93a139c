import { describe, expect, it } from 'vitest';
import { bedAngles } from '@cast-to-last/foot/footbed';
import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import { CastError } from '@cast-to-last/pipeline/errors';
import { castingOf, parseOrder, refuseSideNotOrdered } from '@cast-to-last/pipeline/order';

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    return error instanceof CastError ? `${error.code}: ${error.message}` : String(error);
  }
  return 'accepted';
}

const footbed = { heelHeightMm: 45, hingeHeightMm: 10, toeHeightMm: 22, heelToHingeMm: 175, hingeToToeMm: 85 };
const casting = {
  discipline: 'skating-type', footbed, load: 'half', plan: { forwardLeanDeg: 6, rearViewDeg: -3, note: 'knees let out' }, plaster: { layers: 6, wallMm: 3.5 },
  drying: { how: 'in the air, standing', hours: 48 }, tape: { left: { 'foot-length': 262, 'ball-girth': 248.5 }, right: { 'arch-height': 12 } },
} as const;

describe('parseOrder', () => {
  it('needs the number alone, and keeps the rest', () => {
    expect(parseOrder({ orderNumber: ' 4107 ' })).toEqual({ orderNumber: '4107' });
    const whole = { orderNumber: '4107', sides: ['left', 'right'], customerNumber: 'K-12', remarks: 'winter boot', date: '2028-02-29', ...casting };
    expect(parseOrder(whole)).toEqual(whole);
  });

  it('takes a hinge and toes on the floor where their heights are left out', () => {
    const { footbed: bed } = parseOrder({ orderNumber: '1', footbed: { heelHeightMm: 30, heelToHingeMm: 170, hingeToToeMm: 80 } });
    expect(bed).toMatchObject({ hingeHeightMm: 0, toeHeightMm: 0 });
  });

  it('takes values on the edges of their ranges', () => {
    for (const part of [
      { footbed: { heelHeightMm: 0, heelToHingeMm: 80, hingeToToeMm: 30 } },
      { footbed: { heelHeightMm: 150, hingeHeightMm: 150, toeHeightMm: 150, heelToHingeMm: 320, hingeToToeMm: 200 } },
      { footbed: { ...footbed, heelHeightMm: 132 } },
      { plan: { forwardLeanDeg: -30, rearViewDeg: 20 } },
      { plan: {} },
      { plaster: { layers: 1, wallMm: 0.5 } },
      { plaster: { layers: 40, wallMm: 30 } },
      { drying: { hours: 0 } },
      { tape: { left: { 'foot-length': 100 } } },
      { remarks: 'x'.repeat(2000) },
    ]) expect(codeOf(() => parseOrder({ orderNumber: '1', ...part })), JSON.stringify(part)).toBe('accepted');
  });

  it('never takes a footbed whose angles do not exist', () => {
    for (const heelHeightMm of [0, 40, 90, 120]) {
      for (const hingeToToeMm of [30, 80, 200]) {
        const bed = { ...footbed, heelHeightMm, hingeToToeMm, toeHeightMm: heelHeightMm / 2 };
        const read = codeOf(() => bedAngles(parseOrder({ orderNumber: '1', footbed: bed }).footbed as HingedFootbed));
        expect(read, JSON.stringify(bed)).toMatch(/^(accepted$|bad-order: .*steeper)/);
      }
    }
  });

  it.each([
    [{}, 'orderNumber'],
    [{ orderNumber: '' }, 'orderNumber'],
    [{ orderNumber: '  ' }, 'orderNumber'],
    [{ orderNumber: 4107 }, 'orderNumber'],
    [{ orderNumber: 'x'.repeat(81) }, 'orderNumber'],
    [{ orderNumber: '1', name: 'x' }, 'name'],
    [{ orderNumber: '1', sides: ['both'] }, 'sides[0]'],
    [{ orderNumber: '1', sides: [] }, 'sides'],
    [{ orderNumber: '1', sides: ['left', 'left'] }, 'sides'],
    [{ orderNumber: '1', date: '2026-02-29' }, 'date'],
    [{ orderNumber: '1', date: '17.3.2026' }, 'date'],
    [{ orderNumber: '1', discipline: '' }, 'discipline'],
    [{ orderNumber: '1', footbed: 45 }, 'footbed'],
    [{ orderNumber: '1', footbed: {} }, 'footbed.heelHeightMm'],
    [{ orderNumber: '1', footbed: { heelHeightMm: 45, hingeToToeMm: 80 } }, 'footbed.heelToHingeMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelHeightMm: -1 } }, 'footbed.heelHeightMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelHeightMm: '45' } }, 'footbed.heelHeightMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelHeightMm: Number.NaN } }, 'footbed.heelHeightMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelHeightMm: 140, heelToHingeMm: 180 } }, 'footbed.heelHeightMm'],
    [{ orderNumber: '1', footbed: { ...footbed, toeHeightMm: 100 } }, 'footbed.toeHeightMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelToHingeMm: 17.5 } }, 'footbed.heelToHingeMm'],
    [{ orderNumber: '1', footbed: { ...footbed, heelHeightCm: 4 } }, 'footbed.heelHeightCm'],
    [{ orderNumber: '1', load: 'standing' }, 'load'],
    [{ orderNumber: '1', plan: { forwardLeanDeg: 31 } }, 'plan.forwardLeanDeg'],
    [{ orderNumber: '1', plan: { rearViewDeg: -21 } }, 'plan.rearViewDeg'],
    [{ orderNumber: '1', plan: { note: '' } }, 'plan.note'],
    [{ orderNumber: '1', plan: { kneesOut: true } }, 'plan.kneesOut'],
    [{ orderNumber: '1', plaster: { layers: 2.5 } }, 'plaster.layers'],
    [{ orderNumber: '1', plaster: { layers: 0 } }, 'plaster.layers'],
    [{ orderNumber: '1', plaster: { wallMm: 31 } }, 'plaster.wallMm'],
    [{ orderNumber: '1', drying: { hours: -1 } }, 'drying.hours'],
    [{ orderNumber: '1', drying: 'two days' }, 'drying'],
    [{ orderNumber: '1', tape: { left: { 'foot-length': 26.2 } } }, 'tape.left.foot-length'],
    [{ orderNumber: '1', tape: { left: { 'foot-length': 700 } } }, 'tape.left.foot-length'],
    [{ orderNumber: '1', tape: { right: { 'shoe-size': 42 } } }, 'tape.right.shoe-size'],
    [{ orderNumber: '1', tape: { right: { 'ball-angle': 12 } } }, 'tape.right.ball-angle'],
    [{ orderNumber: '1', tape: { both: {} } }, 'tape.both'],
  ])('refuses %j and names %s', (json, path) => {
    expect(codeOf(() => parseOrder(json))).toMatch(/^bad-order: /);
    expect(codeOf(() => parseOrder(json))).toContain(`${path}: `);
  });

  it('asks of a length in centimetres whether it is in another unit', () => {
    expect(codeOf(() => parseOrder({ orderNumber: '1', tape: { left: { 'ball-girth': 24.8 } } }))).toContain('tape.left.ball-girth: must be at least 100 mm; is it in another unit?');
  });

  it('takes by tape every measure of the sheet but the angle', () => {
    for (const id of Object.keys(MEASURE_LABELS)) {
      const read = codeOf(() => parseOrder({ orderNumber: '1', tape: { left: { [id]: 250 } } }));
      expect(read === 'accepted', id).toBe(id !== 'ball-angle');
    }
  });
});

describe('castingOf', () => {
  it('is what the order says of the casting, without number, name or remark', () => {
    const order = parseOrder({ orderNumber: '4107', customerNumber: 'K-12', remarks: 'winter boot', date: '2028-02-29', sides: ['left'], ...casting });
    expect(castingOf(order)).toEqual(casting);
    expect(JSON.stringify(castingOf(parseOrder({ orderNumber: '1' })))).toBe('{}');
  });
});

describe('refuseSideNotOrdered', () => {
  it('lets pass what is ordered, and any side where none is named', () => {
    for (const sides of [undefined, ['left'], ['left', 'right']] as const) {
      refuseSideNotOrdered({ orderNumber: '1', ...(sides === undefined ? {} : { sides: [...sides] }) }, 'left');
    }
  });

  it('refuses the other foot', () => {
    expect(codeOf(() => refuseSideNotOrdered({ orderNumber: '4107', sides: ['right'] }, 'left'))).toMatch(/^side-not-ordered: Order 4107 is for the right foot/);
  });
});
