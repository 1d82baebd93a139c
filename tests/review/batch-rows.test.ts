import { describe, expect, it } from 'vitest';
import { girthColumns, isTrouble, rowOf, sortedRows } from '../../services/review/src/batches/rows.ts';

type Item = Parameters<typeof rowOf>[0];

const item = (orderNumber: string, changes: Partial<Item> = {}): Item => ({
  id: orderNumber, castId: `cast of ${orderNumber}`, revisionId: 'candidate', againstId: 'present', comparison: null, verdict: null, orderId: 'order', orderNumber, side: 'left', state: 'done',
  refusal: null, story: null, castState: 'to-review', approved: false, overtaken: false, seenAt: '2026-01-01T00:00:00.000Z', ...changes,
});
const compared = (maxMm: number, ball: number | null = 250, after: number | null = 250): Item['comparison'] =>
  ({ maxMm, rmsMm: maxMm / 4, girths: [{ id: 'ball-girth', label: 'ball girth', before: ball, after }], marksCame: [], marksWent: [] });

describe('a row of a batch', () => {
  it('says what it waits for', () => {
    const stateOf = (changes: Partial<Item>, trial = false) => rowOf(item('1', changes), trial).state;
    expect(stateOf({ comparison: compared(1) })).toBe('to-decide');
    expect(stateOf({ comparison: compared(1) }, true)).toBe('tried');
    expect(stateOf({ comparison: compared(1), overtaken: true })).toBe('overtaken');
    expect(stateOf({ comparison: compared(1), overtaken: true, verdict: 'accepted' })).toBe('accepted');
    expect(stateOf({ comparison: { problem: 'files are damaged' } })).toBe('not-compared');
    expect(stateOf({})).toBe('making');
    expect([stateOf({ state: 'waiting' }), stateOf({ state: 'refused' }), stateOf({ state: 'failed' }), stateOf({ state: 'set-aside' }), stateOf({ state: 'cancelled' }), stateOf({ revisionId: null })])
      .toEqual(['making', 'refused', 'failed', 'failed', 'cancelled', 'cancelled']);
    expect((['to-decide', 'tried', 'making', 'accepted', 'declined'] as const).some(isTrouble)).toBe(false);
  });

  it('stands by its largest change, or any other figure, those without one last whichever way', () => {
    const rows = [item('10', { comparison: compared(0.2, 250, 253) }), item('9'), item('2', { comparison: compared(5, 250, 249) }), item('11', { comparison: compared(0.2, 250, null) })].map((one) => rowOf(one, false));
    const order = (by: string, down: boolean) => sortedRows(rows, 'all', '', { by, down }).map((row) => row.item.orderNumber);
    expect(order('largest', true)).toEqual(['2', '10', '11', '9']);
    expect(order('largest', false)).toEqual(['10', '11', '2', '9']);
    expect(order('ball-girth', true)).toEqual(['10', '2', '11', '9']);
    expect(order('order', false)).toEqual(['2', '9', '10', '11']);
    // A girth that is no longer there is no change of so many millimetres.
    expect(rows[3].girths.has('ball-girth')).toBe(false);
    expect(girthColumns(rows)).toEqual([['ball-girth', 'ball']]);
  });

  it('is found by its order number and kept by its filter', () => {
    const rows = [item('A-1', { comparison: compared(1) }), item('A-2', { state: 'refused' }), item('B-1', { comparison: compared(1), verdict: 'declined' })].map((one) => rowOf(one, false));
    const found = (filter: Parameters<typeof sortedRows>[1], search: string) => sortedRows(rows, filter, search, { by: 'order', down: false }).map((row) => row.item.orderNumber);
    expect(found('all', ' a-')).toEqual(['A-1', 'A-2']);
    expect([found('to-decide', ''), found('trouble', ''), found('declined', ''), found('accepted', '')]).toEqual([['A-1'], ['A-2'], ['B-1'], []]);
  });
});
