import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseResult } from '@cast-to-last/pipeline/pair/parse-result';
import { REPORT_SCHEMA, asCurrentReport } from '@cast-to-last/pipeline/report/report-version';

describe('forms of report.json', () => {
  it('one of today stays as it is, and what is no report is left to its reader', () => {
    const report = { schema: REPORT_SCHEMA, marks: [] };
    expect(asCurrentReport(report, 'It')).toBe(report);
    for (const other of [null, [], 'x', {}, { schema: 'one' }]) expect(asCurrentReport(other, 'It')).toBe(other);
  });

  it('an older one goes up form by form, none left out', () => {
    const steps = { 1: (r: object) => ({ ...r, seen: ['1'] }), 2: (r: object) => ({ ...r, seen: [...(r as { seen: string[] }).seen, '2'] }) };
    expect(asCurrentReport({ schema: 1, kept: true }, 'It', steps, 3)).toEqual({ schema: 3, kept: true, seen: ['1', '2'] });
    expect(asCurrentReport({ schema: 2, seen: [] }, 'It', steps, 3)).toEqual({ schema: 3, seen: ['2'] });
  });

  it('one of a later program is refused with what to do', () => {
    const refusal = (work: () => unknown): CastError => {
      try {
        work();
      } catch (error) {
        return error as CastError;
      }
      throw new Error('It was taken.');
    };
    for (const work of [() => asCurrentReport({ schema: REPORT_SCHEMA + 1 }, 'It'), () => parseResult({ schema: REPORT_SCHEMA + 1 }, 'The report')]) {
      expect(refusal(work)).toBeInstanceOf(CastError);
      expect(refusal(work).code).toBe('report-too-new');
      expect(refusal(work).remedy).toContain('process the scan again');
    }
  });
});
