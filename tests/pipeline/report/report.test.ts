import { describe, expect, it } from 'vitest';
import { measuresCsv } from '@cast-to-last/pipeline/report/measures-csv';
import { buildCheckReport, buildReport } from '@cast-to-last/pipeline/report/report';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';
import { checkFaults, reportFaults } from '../../support/report-schema.js';

const context = {
  fileName: 'order-1042-left.stl', programVersion: '0.1.0',
  stages: [{ name: 'read-scan', durationMs: 12.5, cached: false, key: 'c'.repeat(64) }],
};

describe('buildReport', () => {
  const report = buildReport(handMadeOutcome(), context);

  it('fits the schema that ships with the program', () => {
    expect(reportFaults(report)).toEqual([]);
  });

  it('has the keys of the interface in their order', () => {
    expect(Object.keys(report)).toEqual([
      'schema', 'scan', 'transform', 'measurements', 'sizes', 'casting', 'castCheck', 'marks', 'last', 'rules', 'stages', 'program', 'warnings',
    ]);
  });

  it('gives the marks where they are in the settled frame', () => {
    expect(report.marks.map((m) => m.centre)).toEqual([[52, 5, 20], [53, 5, 20]]);
  });

  it('gives each measure once for the cast and once for the last, an absent one with its reason and no value', () => {
    for (const on of ['cast', 'last']) {
      const ids = report.measurements.filter((m) => m.on === on).map((m) => m.id);
      expect(new Set(ids).size).toBe(16);
      expect(ids.length).toBe(16);
    }
    const ankle = report.measurements.filter((m) => m.id === 'ankle-girth');
    expect(ankle).toHaveLength(2);
    for (const m of ankle) expect(m).toEqual({ id: 'ankle-girth', label: 'ankle girth', on: m.on, absent: 'The cast ends 12 mm below the place of this tape.' });
  });

  it('says a warning once', () => {
    expect(report.warnings).toEqual(['One warning.', 'Another.']);
  });

  it('is the same text for the same outcome', () => {
    expect(JSON.stringify(buildReport(handMadeOutcome(), context))).toBe(JSON.stringify(report));
  });
});

describe('buildCheckReport', () => {
  const casting = {
    discipline: 'skating-type', load: 'half', plan: { rearViewDeg: -3, note: 'knees let out' }, plaster: { layers: 6 }, drying: { hours: 48 },
    footbed: { heelHeightMm: 45, hingeHeightMm: 0, toeHeightMm: 12, heelToHingeMm: 175, hingeToToeMm: 85 }, tape: { left: { 'ball-girth': 248 } },
  } as const;
  const outcome = { ...handMadeOutcome(), casting };

  it('is the report without marks and last, and fits its own schema', () => {
    const { marks: _, last: __, ...rest } = buildReport(outcome, context);
    const check = buildCheckReport(outcome, context);
    expect(check).toEqual({ ...rest, measurements: rest.measurements.filter((m) => m.on === 'cast') });
    expect(checkFaults(check)).toEqual([]);
    expect(checkFaults(buildReport(outcome, context))).not.toEqual([]);
  });

  it('carries what the order says of the casting', () => {
    expect(buildReport(outcome, context).casting).toEqual(casting);
    expect(reportFaults(buildReport(outcome, context))).toEqual([]);
  });
});

describe('the schema', () => {
  const good = () => JSON.parse(JSON.stringify(buildReport(handMadeOutcome(), context)));
  it.each([
    ['an unknown key', (r: any) => { r.extra = 1; }],
    ['a missing transform', (r: any) => { delete r.transform; }],
    ['15 numbers in the transform', (r: any) => { r.transform.pop(); }],
    ['an unknown measure', (r: any) => { r.measurements[0].id = 'shoe-length'; }],
    ['a measure both taken and absent', (r: any) => { r.measurements[0].absent = 'no'; }],
    ['a measure neither taken nor absent', (r: any) => { delete r.measurements[0].value; }],
    ['a value that is not a number', (r: any) => { r.measurements[0].value = null; }],
    ['a last that is not manifold', (r: any) => { r.last.manifold = false; }],
    ['a last of no volume', (r: any) => { r.last.volume = 0; }],
    ['a mark without a reason', (r: any) => { delete r.marks[0].why; }],
    ['an unknown kind of mark', (r: any) => { r.marks[0].kind = 'scratch'; }],
    ['a quarter size', (r: any) => { r.sizes.uk = 8.25; }],
    ['an unknown load', (r: any) => { r.casting.load = 'standing'; }],
    ['half a footbed', (r: any) => { r.casting.footbed = { heelHeightMm: 45 }; }],
    ['a finding without a place or the word that it has none', (r: any) => { delete r.castCheck.findings[0].at; }],
    ['a reading without its limits', (r: any) => { delete r.castCheck.readings[0].care; }],
    ['a short hash', (r: any) => { r.scan.sha256 = 'abc'; }],
  ])('refuses %s', (_, spoil) => {
    const report = good();
    spoil(report);
    expect(reportFaults(report)).not.toEqual([]);
  });
});

describe('measuresCsv', () => {
  it('writes one row a measure, quoted where RFC 4180 asks for it', () => {
    const rows = measuresCsv({
      measurements: [
        { id: 'foot-length', label: 'foot length', on: 'cast', value: 262.44444, unit: 'mm', uncertainty: 0.3, onFilled: 0 },
        { id: 'ankle-girth', label: 'ankle girth', on: 'cast', absent: 'The cast stops short, "low"' },
      ],
      last: { allowances: { toeMm: 0, topHeightMm: null, changes: [{ id: 'toe-spring', label: 'toe spring', unit: 'deg', before: 1.25, asked: 4, got: 3.996 }] } },
    }).split('\r\n');
    expect(rows).toEqual([
      'id,label,on,value,unit,uncertainty,absent,before,asked',
      'foot-length,foot length,cast,262.44,mm,0.30,,,',
      'ankle-girth,ankle girth,cast,,,,"The cast stops short, ""low""",,',
      'toe-spring,toe spring,change,4.00,deg,,,1.25,4.00',
      '',
    ]);
  });

  it('does not let a text pass for a formula', () => {
    const csv = measuresCsv({ measurements: [{ id: 'ankle-girth', label: '=1+1', on: 'cast', absent: '-x' }] });
    expect(csv).toContain("'=1+1");
    expect(csv).toContain("'-x");
  });
});
