import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseOrder, refuseSideNotOrdered } from '@cast-to-last/pipeline/order';

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    return error instanceof CastError ? `${error.code}: ${error.message}` : String(error);
  }
  return 'accepted';
}

describe('parseOrder', () => {
  it('needs the number alone, and keeps the rest', () => {
    expect(parseOrder({ orderNumber: ' 4107 ' })).toEqual({ orderNumber: '4107' });
    const whole = { orderNumber: '4107', sides: ['left', 'right'], customerNumber: 'K-12', remarks: 'winter boot', date: '2028-02-29' };
    expect(parseOrder(whole)).toEqual(whole);
  });

  it.each([
    [{}, 'orderNumber'],
    [{ orderNumber: '' }, 'orderNumber'],
    [{ orderNumber: 4107 }, 'orderNumber'],
    [{ orderNumber: '1', name: 'x' }, 'name'],
    [{ orderNumber: '1', sides: ['both'] }, 'sides[0]'],
    [{ orderNumber: '1', sides: [] }, 'sides'],
    [{ orderNumber: '1', date: '2026-02-29' }, 'date'],
    [{ orderNumber: '1', date: '17.3.2026' }, 'date'],
  ])('refuses %j and names %s', (json, path) => {
    expect(codeOf(() => parseOrder(json))).toMatch(/^bad-order: /);
    expect(codeOf(() => parseOrder(json))).toContain(`${path}: `);
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
