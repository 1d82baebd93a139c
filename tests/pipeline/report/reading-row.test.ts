import { describe, expect, it } from 'vitest';
import { figureWithUnit, readingReasons, readingRows } from '@cast-to-last/pipeline/report/reading-row';
import { weighed } from '../../support/hand-made-check.js';

const { reading } = weighed('forward-lean', 'care', 8.44, 3, 5);

describe('figureWithUnit', () => {
  it('has one decimal, of a ratio two and of an area none, with a true minus and none before 0', () => {
    expect(figureWithUnit(8.44, 'deg')).toBe('8.4°');
    expect(figureWithUnit(-12.26, 'mm')).toBe('−12.3 mm');
    expect(figureWithUnit(-0.04, 'mm')).toBe('0.0 mm');
    expect(figureWithUnit(0.6444, '')).toBe('0.64');
    expect(figureWithUnit(1112.6, 'mm²')).toBe('1113 mm²');
    expect(figureWithUnit(3.3, '%')).toBe('3.3 %');
  });

  it('never claims that a figure has no uncertainty', () => {
    expect(figureWithUnit(8.44, 'deg', 0.62)).toBe('8.4 ± 0.6°');
    expect(figureWithUnit(8.44, 'mm', 0.001)).toBe('8.4 ± 0.1 mm');
    expect(figureWithUnit(0.5, '', 0)).toBe('0.50 ± 0.01');
  });
});

describe('readingRows', () => {
  it('give value, wanted and limits, and what became of it', () => {
    const rows = readingRows({ readings: [{ ...reading, recast: 9 }], findings: [] });
    expect(rows).toEqual([{ label: 'forward-lean', measured: '8.4 ± 0.5°', wanted: '3.0', care: '5.0', recast: '9.0', state: 'in order' }]);
    expect(readingRows({ readings: [reading], findings: [weighed('forward-lean', 'recast', 8.44, 3, 5).finding] })[0].state).toBe('recast');
  });

  it('tell a reading that could not be taken, and one without limits, from one in order', () => {
    const unread = { ...reading, value: null, why: 'The cast ends too low.' };
    const told = { ...reading, care: null, recast: null };
    const [a, b] = readingRows({ readings: [unread, told], findings: [] });
    expect(a).toMatchObject({ measured: 'not read', state: 'not read' });
    expect(b).toMatchObject({ wanted: '3.0', care: '', recast: '', state: '' });
  });

  it('leave the many of population and missing surface to the report, unless something is wrong with one', () => {
    const readings = ['population-ball-girth', 'missing-heel', 'forward-lean'].map((id) => ({ ...reading, id, label: id }));
    const labels = (codes: string[]) => readingRows({ readings, findings: codes.map((code) => weighed(code, 'note', 1, 0, 0).finding) }).map((r) => r.label);
    expect(labels([])).toEqual(['forward-lean']);
    expect(labels(['population-ball-girth'])).toEqual(['population-ball-girth', 'forward-lean']);
  });
});

describe('readingReasons', () => {
  it('say each reason once, after all that it holds for', () => {
    const readings = [{ ...reading, label: 'heel pitch', why: 'No footbed.' }, reading, { ...reading, label: 'lean', why: 'Too low.' }, { ...reading, label: 'toe pitch', why: 'No footbed.' }];
    expect(readingReasons({ readings })).toEqual(['heel pitch, toe pitch: No footbed.', 'lean: Too low.']);
  });
});
