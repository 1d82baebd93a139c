import { describe, expect, it } from 'vitest';
import type { ReportedMark } from '@cast-to-last/pipeline/report/report';
import { decideMark, sortedMarks } from '../../services/review/src/bench/order/decided-marks.ts';

const mark = (id: string, decision: ReportedMark['decision'], depth: number): ReportedMark => ({ id, kind: 'dent', centre: [1, 2, 3], depth, area: 60, length: 10, width: 8, decision, why: '' });
const marks = [mark('a', 'smooth', -1), mark('b', 'keep', -3), mark('c', 'ask', 1), mark('d', 'ask', -2)];
const none = { marks: [], patches: [] };

describe('marks at the bench', () => {
  it('come with what asks first, then what is deepest, and keep the numbers of the report', () => {
    expect(sortedMarks(marks, none).map(({ id, number }) => `${id}${number}`)).toEqual(['d4', 'c3', 'a1', 'b2']);
  });

  it('stand as the maker decided, before the result has it', () => {
    const decided = decideMark(none, marks[3], 'keep', 'a scar');
    expect(sortedMarks(marks, decided).map(({ id, now }) => `${id} ${now}`)).toEqual(['c ask', 'a smooth', 'b keep', 'd keep']);
    expect(decided.marks).toEqual([{ id: 'd', centre: [1, 2, 3], decision: 'keep', note: 'a scar' }]);
  });

  it('take another decision in the place of the one before, with its note', () => {
    const twice = decideMark(decideMark(none, marks[3], 'keep', 'a scar'), marks[3], 'smooth');
    expect(twice.marks).toEqual([{ id: 'd', centre: [1, 2, 3], decision: 'smooth', note: 'a scar' }]);
    expect(decideMark(twice, marks[3], 'smooth', '').marks[0].note).toBeUndefined();
  });
});
