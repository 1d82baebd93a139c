import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { ScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-check';
import { addToRecord, parseScannerRecord, storeScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import type { ScannerRecord, StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import { judgeScanner } from '@cast-to-last/pipeline/scanner/scanner-verdict';
import { scannerWarnings } from '@cast-to-last/pipeline/scanner/scanner-warnings';

const rules = DEFAULT_RULES.scanner;

function check(spacingErrorMm: number): ScannerCheck {
  const ball = {
    centre: [1, 2, 3], diameterMm: 25.012345678, fitUncertaintyMm: 0.004, diameterUncertaintyMm: 0.005, sizeErrorMm: 0.012345678, formErrorMm: 0.19, form95Mm: 0.12,
    noiseMm: 0.03, points: 5000, strayShare: 0, coverage: 0.6, centreCovariance: [0, 0, 0, 0, 0, 0, 0, 0, 0],
  } as const;
  const measuredMm = 200 + spacingErrorMm;
  return {
    unit: 'mm', unitHow: 'given', triangles: 90_000, gauge: { diameterMm: 25, distanceMm: 200, uncertaintyMm: 0.003 }, balls: [ball, { ...ball, centre: [201, 2, 3] }],
    spacing: { measuredMm, errorMm: spacingErrorMm, uncertaintyMm: 0.01 }, scale: { factor: 200 / measuredMm, uncertainty: 5e-5, from: 'spacing', significant: true }, warnings: ['A note.'],
  };
}

const stored = (date: string, spacingErrorMm = 0.05): StoredScannerCheck =>
  storeScannerCheck(check(spacingErrorMm), rules, { date, fileName: 'gauge.stl', sha256: 'c'.repeat(64), programVersion: '0.1.0' });

const recordOf = (...checks: StoredScannerCheck[]): ScannerRecord => checks.reduce<ScannerRecord | null>((r, c) => addToRecord(r, 'bench 2', c), null)!;

describe('verdict on a scanner', () => {
  it('is out of limits where one figure is, and unsure where its uncertainty reaches the limit', () => {
    expect(judgeScanner(check(0.05), rules).verdict).toBe('within-limits');
    expect(judgeScanner(check(-0.26), rules)).toMatchObject({ verdict: 'out-of-limits' });
    expect(judgeScanner(check(0.245), rules).judgements.at(-1)).toMatchObject({ id: 'sphere-spacing-error', ball: null, within: true, sure: false });
    expect(judgeScanner(check(0.05), { ...rules, maxFormMm: 0.1 }).judgements.filter((j) => !j.within).map((j) => [j.id, j.ball])).toEqual([['form-error', 1], ['form-error', 2]]);
    expect(judgeScanner(check(0.05), { ...rules, maxSizeMm: 0.01 }).judgements.filter((j) => !j.within).map((j) => j.id)).toEqual(['size-error', 'size-error']);
  });
});

describe('scanner record', () => {
  it('is what its own reader takes, figures rounded to a ten-thousandth of a millimetre', () => {
    const record = recordOf(stored('2026-01-10'));
    expect(parseScannerRecord(JSON.parse(JSON.stringify(record)))).toEqual(record);
    expect(record.checks[0]).toMatchObject({ date: '2026-01-10', verdict: 'within-limits', balls: [{ diameterMm: 25.0123, sizeErrorMm: 0.0123 }, {}], warnings: ['A note.'] });
    expect(record.checks[0].scale.factor).toBeCloseTo(200 / 200.05, 6);
  });

  it('holds every check in the order of the dates, and one scanner alone', () => {
    expect(recordOf(stored('2026-03-01'), stored('2026-01-10'), stored('2026-03-01', 0.1)).checks.map((c) => [c.date, c.spacing?.errorMm])).toEqual([['2026-01-10', 0.05], ['2026-03-01', 0.05], ['2026-03-01', 0.1]]);
    expect(addToRecord(recordOf(stored('2026-01-10')), null, stored('2026-02-10')).scanner).toBe('bench 2');
    expect(addToRecord(null, null, stored('2026-02-10')).scanner).toBe('scanner');
    expect(() => addToRecord(recordOf(stored('2026-01-10')), 'bench 3', stored('2026-02-10'))).toThrow(CastError);
  });

  it.each([
    ['another form', { schema: 2 }, 'schema: must be 1'],
    ['no checks', { checks: [] }, 'checks'],
    ['a date that is none', { checks: [{ ...stored('2026-01-10'), date: '2026-02-30' }] }, 'checks[0].date: must be a date'],
    ['a key that is not known', { owner: 'x' }, 'owner: no such key'],
    ['a figure that is none', { checks: [{ ...stored('2026-01-10'), spacing: { measuredMm: 'wide', errorMm: 0, uncertaintyMm: 0 } }] }, 'checks[0].spacing.measuredMm'],
  ])('with %s is refused with the path', (_, change, said) => {
    const bad = { ...recordOf(stored('2026-01-10')), ...change };
    expect(() => parseScannerRecord(bad)).toThrow(said);
    expect(() => parseScannerRecord(bad)).toThrow(CastError);
  });
});

describe('what is said of a cast\'s scanner', () => {
  it('is nothing where it was checked in time and is within limits', () => {
    expect(scannerWarnings(recordOf(stored('2026-01-10')), '2026-01-10', rules)).toEqual([]);
    expect(scannerWarnings(recordOf(stored('2026-01-10')), '2026-04-10', rules)).toEqual([]);
  });

  it('is that the check is too old, to the day', () => {
    expect(scannerWarnings(recordOf(stored('2026-01-10')), '2026-04-11', rules)[0]).toContain('91 days before; a check is good for 90');
    expect(scannerWarnings(recordOf(stored('2026-01-10'), stored('2026-03-01')), '2026-04-11', rules)).toEqual([]);
    expect(scannerWarnings(recordOf(stored('2026-01-10')), '2026-01-20', { ...rules, validDays: 9 })).toHaveLength(1);
  });

  it('is that there is none yet: later checks say nothing of an earlier cast', () => {
    expect(scannerWarnings(recordOf(stored('2026-03-01')), '2026-02-28', rules)[0]).toContain('no check on record up to 2026-02-28');
  });

  it('is that it was out of limits, by the present rules, with what that does to a girth', () => {
    const [said, ...more] = scannerWarnings(recordOf(stored('2026-01-10', 0.8)), '2026-01-20', rules);
    expect(more).toEqual([]);
    expect(said).toContain('sphere-spacing error 0.80 mm (limit 0.25 mm)');
    expect(said).toContain('0.40 % too large: 1.0 mm on a girth of 250 mm');
    expect(scannerWarnings(recordOf(stored('2026-01-10', 0.8), stored('2026-01-15')), '2026-01-20', rules)).toEqual([]);
    expect(scannerWarnings(recordOf(stored('2026-01-10')), '2026-01-20', parseRules({ scanner: { maxSpacingMm: 0.02 } }).scanner)).toHaveLength(1);
  });
});
