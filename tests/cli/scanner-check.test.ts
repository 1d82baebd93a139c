import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { parseScannerRecord } from '@cast-to-last/pipeline/scanner/scanner-record';
import { makeBallScan } from '../phantoms/balls/make-ball-scan.js';
import { makePhantom } from '../phantoms/make-phantom.js';
import { buildPackages, runCli } from '../support/run-cli.js';

const GAUGE_SEED = 361;
const CAST_SEED = 41;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-scanner-'));
const at = (name: string): string => join(folder, name);
const record = at('bench-2.json');
const gauge = makeBallScan(GAUGE_SEED, { balls: 2, diameter: 25, distance: 80, edge: 0.6, noise: 0.02, views: 8, round: 1, wrong: false, clutter: 1, unit: 'm' });
const call = ['scanner-check', at('gauge.stl'), '--diameter', String(gauge.diameter), '--distance', String(gauge.distance)];

beforeAll(async () => {
  await buildPackages();
  writeFileSync(at('gauge.stl'), writeStl(gauge.mesh));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`scanner-check, on the gauge phantom of seed ${GAUGE_SEED}`, () => {
  it('says in words how true the scanner is, and keeps no record unasked', () => {
    const ran = runCli(...call, '--date', '2026-01-10');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toContain('scanner "scanner", 2026-01-10: within limits');
    expect(ran.out).toMatch(/sphere-spacing error: [+-]?0\.0\d\d mm, limit 0\.25 mm: within/);
    expect(readdirSync(folder)).toEqual(['gauge.stl']);
  });

  it('makes the record and adds to it, whole, and prints the check as JSON', () => {
    const first = runCli(...call, '--name', 'bench 2', '--date', '2026-03-10', '--record', record, '--json');
    expect(first).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(first.out)).toEqual(JSON.parse(readFileSync(record, 'utf8')).checks[0]);
    expect(runCli(...call, '--date', '2026-01-10', '--record', record, '--uncertainty', '0.01').code).toBe(0);
    const kept = parseScannerRecord(JSON.parse(readFileSync(record, 'utf8')));
    expect(kept).toMatchObject({ scanner: 'bench 2', checks: [{ date: '2026-01-10', gauge: { uncertaintyMm: 0.01 } }, { date: '2026-03-10', scan: { file: 'gauge.stl', unit: 'm' } }] });
    expect(readdirSync(folder).sort()).toEqual(['bench-2.json', 'gauge.stl']);
  });

  it('obeys the limits of the rules', () => {
    writeFileSync(at('strict.json'), '{ "scanner": { "maxFormMm": 0.02 } }');
    const ran = runCli(...call, '--rules', at('strict.json'));
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('OUT OF LIMITS');
    expect(ran.out).toMatch(/form error .* limit 0\.02 mm: OUT/);
  });

  it('takes today where no date is given', () => {
    const now = new Date();
    expect(runCli(...call).out).toContain(`"scanner", ${now.getFullYear()}-`);
  });

  it('refuses what it cannot use with 3, and leaves the record as it was', () => {
    const before = readFileSync(record, 'utf8');
    for (const [code, ...args] of [
      ['no-ball-found', 'scanner-check', at('gauge.stl'), '--diameter', '60', '--unit', 'm', '--record', record],
      ['ball-spacing-mismatch', 'scanner-check', at('gauge.stl'), '--diameter', '25', '--distance', '95', '--record', record],
      ['scanner-name-differs', ...call, '--name', 'bench 3', '--record', record],
      ['bad-scanner-record', ...call, '--record', at('strict.json')],
      ['not-a-mesh-file', 'scanner-check', record, '--diameter', '25'],
    ]) {
      const ran = runCli(...args);
      expect(ran.err).toContain(`refused (${code}): `);
      expect(ran).toMatchObject({ code: 3, out: '' });
    }
    expect(readFileSync(record, 'utf8')).toBe(before);
    expect(readFileSync(at('strict.json'), 'utf8')).toContain('maxFormMm');
  });

  it.each([
    [['scanner-check', 'x.stl']],
    [['scanner-check', 'x.stl', '--diameter', '25']],
    [['scanner-check', 'x.stl', '--diameter', 'wide']],
    [['scanner-check', 'x.stl', '--diameter', '25', '--date', '2026-02-30']],
    [['scanner-check', 'x.stl', '--diameter', '25', '--distance', '20']],
    [['scanner-check', 'x.stl', '--diameter', '25', '--uncertainty', '-1']],
  ])('%j is a wrong call', (args) => {
    expect(runCli(...args).code).toBe(2);
  });
});

describe(`casts of a scanner on record (phantom ${CAST_SEED})`, () => {
  it('say where its check is too old by the order\'s date, and nothing where it is not', () => {
    const { scan } = makePhantom(CAST_SEED, { triangles: 20_000, denseTriangles: 20_000, side: 'right', top: 'cut', dents: 1, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, unit: 'mm' });
    writeFileSync(at('cast.stl'), writeStl(scan));
    const warnings = (date: string): string[] => {
      writeFileSync(at('order.json'), JSON.stringify({ orderNumber: '4107', date }));
      const ran = runCli('check', at('cast.stl'), '--side', 'right', '--order', at('order.json'), '--scanner', record, '--json', '--quiet');
      expect(ran.err).toBe('');
      return JSON.parse(ran.out).warnings.filter((w: string) => w.includes('bench 2'));
    };
    expect(warnings('2026-03-20')).toEqual([]);
    expect(warnings('2027-03-20')).toEqual([expect.stringContaining('375 days before')]);
    expect(runCli('check', at('cast.stl'), '--side', 'right', '--scanner', at('strict.json')).err).toContain('refused (bad-scanner-record)');
  });
});
