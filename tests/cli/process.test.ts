import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom } from '../phantoms/make-phantom.js';
import { reportFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';
import type { Ran } from '../support/run-cli.js';

const SEED = 41;
/** But for the recast note, of which check.test.ts treats. */
const ALL_FILES = ['cleaned.stl', 'last.3mf', 'last.stl', 'measures.csv', 'report.json', 'review.glb', 'rules.json', 'sheet.json', 'sheet.pdf', 'view-cleaned.glb', 'view-last.glb', 'view-light.glb', 'view-scan.glb'];
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-cli-'));
const at = (name: string): string => join(folder, name);
const scan = at('4107-right.stl');
const order = at('order.json');

/** One run whose results several tests look at. */
let first: Ran;

beforeAll(async () => {
  await buildPackages();
  const phantom = makePhantom(SEED, { triangles: 20_000, denseTriangles: 20_000, side: 'right', top: 'cut', dents: 3, bumps: 1, ridges: 0, seam: false, holes: 1, debris: false, unit: 'mm' });
  writeFileSync(scan, writeStl(phantom.scan));
  writeFileSync(order, JSON.stringify({ orderNumber: '4107', sides: ['right'], remarks: 'winter boot', date: '2026-03-17' }));
  first = runCli('process', scan, '--side', 'right', '--order', order, '--out', at('first'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const filesIn = (path: string): string[] => readdirSync(at(path)).filter((name) => name !== 'recast-note.pdf').sort();
/** Folders and files that a run may have left beside its results. */
const leftovers = (): string[] => readdirSync(folder).filter((name) => name.includes('.part'));

describe(`process, on the phantom of seed ${SEED}`, () => {
  it('ends with 0 and leaves every file whole, and nothing else', () => {
    expect(first.err.match(/refused|fault/)).toBeNull();
    expect(first.code).toBe(0);
    expect(filesIn('first')).toEqual(ALL_FILES);
    expect(leftovers()).toEqual([]);
    expect(readFileSync(at('first/sheet.pdf')).subarray(-7).toString('latin1')).toContain('%%EOF');
    expect(readFileSync(at('first/measures.csv'), 'utf8')).toMatch(/^id,label,on,value,unit,uncertainty,absent,before,asked\r\nfoot-length,/);
  });

  it('writes a report that fits its schema and names its stages in the order of the work', () => {
    const report = json(at('first/report.json'));
    expect(reportFaults(report)).toEqual([]);
    expect(report.stages.map((s: { name: string }) => s.name).filter((name: string) => name !== 'draw-note')).toEqual([
      'read-scan', 'repair', 'shell', 'align', 'find-marks', 'smooth-marks', 'measure', 'check-cast', 'build-last', 'draw-sheet',
    ]);
    expect(report.scan.file).toBe('4107-right.stl');
    expect(report.scan.side).toBe('right');
  });

  it('tells its progress on standard error, a line a stage, and the outcome on standard output', () => {
    for (const words of ['reading the scan: ', 'finding marks: ', 'building the last: ', 'drawing the sheet: ']) expect(first.err).toContain(words);
    expect(first.out).toContain('order 4107, right');
    expect(first.out).toMatch(/foot length: \d+\.\d ± \d+\.\d mm/);
    expect(first.out).toContain('report.json');
  });

  it('gives the same bytes again, but for how long the stages took', () => {
    expect(runCli('process', scan, '--side', 'right', '--order', order, '--out', at('again'), '--quiet')).toEqual({ code: 0, out: '', err: '' });
    for (const name of ALL_FILES.filter((n) => n !== 'report.json')) {
      expect(readFileSync(at(`again/${name}`)).equals(readFileSync(at(`first/${name}`))), name).toBe(true);
    }
    const still = (report: { stages: object[] }) => ({ ...report, stages: report.stages.map((s) => ({ ...s, durationMs: 0 })) });
    expect(still(json(at('again/report.json')))).toEqual(still(json(at('first/report.json'))));
  });

  it('prints the report with --json, takes an older sheet away with --no-sheet, and obeys rules and decisions', () => {
    const [mark] = json(at('first/report.json')).marks;
    expect(mark).toBeDefined();
    writeFileSync(at('rules.json'), JSON.stringify({ name: 'short boots', version: '3', last: { toeAllowanceMm: 10 } }));
    writeFileSync(at('decisions.json'), JSON.stringify({ marks: [{ id: mark.id, decision: 'keep', note: 'scar' }] }));
    const ran = runCli(
      'process', scan, '--side', 'right', '--order', order, '--rules', at('rules.json'), '--decisions', at('decisions.json'), '--out', at('again'), '--json', '--no-sheet',
    );
    expect(ran.code).toBe(0);
    const report = JSON.parse(ran.out);
    expect(report).toEqual(json(at('again/report.json')));
    expect(reportFaults(report)).toEqual([]);
    expect(filesIn('again')).toEqual(ALL_FILES.filter((name) => !name.startsWith('sheet.')));
    expect(report.rules).toMatchObject({ name: 'short boots', version: '3' });
    expect(report.last.allowances).toMatchObject({ toeMm: 10, topHeightMm: null });
    expect(report.marks.find((m: { id: string }) => m.id === mark.id).decision).toBe('keep');
    const length = (on: string) => report.measurements.find((m: { id: string; on: string }) => m.id === 'foot-length' && m.on === on).value;
    expect(length('last')).toBeCloseTo(length('cast') + 10, 1);
  });
});

describe('refusals', () => {
  const refused = (code: string, ...args: string[]): Ran => {
    const ran = runCli('process', ...args, '--out', at('refused'));
    expect(ran.code).toBe(3);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(`refused (${code}): `);
    expect(readdirSync(folder)).not.toContain('refused');
    expect(leftovers()).toEqual([]);
    return ran;
  };

  it('of a scan that contradicts its side, unless the operator insists', () => {
    expect(refused('side-contradiction', scan, '--side', 'left').err).toContain('--override-side');
    expect(runCli('process', scan, '--side', 'left', '--override-side', '--out', at('insisted'), '--quiet').code).toBe(0);
    expect(json(at('insisted/report.json')).scan.side).toBe('left');
  });

  it('of a file that is no scan', () => {
    writeFileSync(at('picture.stl'), Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'));
    refused('not-a-mesh-file', at('picture.stl'), '--side', 'left');
  });

  it('of the outside of a shell without its wall, in words for the bench', () => {
    expect(refused('wall-unknown', scan, '--side', 'right', '--kind', 'outside').err).toContain('--wall');
  });

  it('of rules, decisions and orders, with the path of the key', () => {
    writeFileSync(at('bad.json'), JSON.stringify({ marks: { minDepth: 1 } }));
    expect(refused('bad-rules', scan, '--side', 'right', '--rules', at('bad.json')).err).toContain('marks.minDepth: no such key');
    expect(refused('bad-decisions', scan, '--side', 'right', '--decisions', at('bad.json')).err).toContain('marks: ');
    expect(refused('bad-order', scan, '--side', 'right', '--order', at('bad.json')).err).toContain('orderNumber: ');
    writeFileSync(at('torn.json'), '{ "marks": ');
    expect(refused('bad-rules', scan, '--side', 'right', '--rules', at('torn.json')).err).toContain('is no JSON');
  });

  it('of a side that the order is not for', () => {
    refused('side-not-ordered', scan, '--side', 'left', '--order', order);
  });

  it('leave earlier results in the folder as they were', () => {
    const before = readFileSync(at('first/last.stl'));
    expect(runCli('process', scan, '--side', 'left', '--out', at('first')).code).toBe(3);
    expect(readFileSync(at('first/last.stl')).equals(before)).toBe(true);
    expect(filesIn('first')).toEqual(ALL_FILES);
  });
});

describe('wrong calls', () => {
  it.each([
    ['no side', [scan, '--out', at('x')], '--side'],
    ['an impossible side', [scan, '--side', 'both', '--out', at('x')], 'left, right'],
    ['no folder', [scan, '--side', 'right'], '--out'],
    ['a missing scan', [at('none.stl'), '--side', 'right', '--out', at('x')], 'no such file'],
    ['a folder for a scan', [folder, '--side', 'right', '--out', at('x')], 'it is a folder'],
    ['a missing rules file', [scan, '--side', 'right', '--rules', at('none.json'), '--out', at('x')], 'no such file'],
    ['a file for a folder', [scan, '--side', 'right', '--out', scan], 'is a file'],
    ['an unknown unit', [scan, '--side', 'right', '--unit', 'ft', '--out', at('x')], 'auto, mm, cm, m, in'],
    ['a wall that is no number', [scan, '--side', 'right', '--kind', 'outside', '--wall', 'thick', '--out', at('x')], '0.5 to 30'],
    ['the wall of a positive', [scan, '--side', 'right', '--wall', '4', '--out', at('x')], 'a positive has none'],
    ['an unknown option', [scan, '--side', 'right', '--polish', '--out', at('x')], '--polish'],
  ])('%s ends with 2', (_, args, words) => {
    const ran = runCli('process', ...args);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(words);
    expect(readdirSync(folder)).not.toContain('x');
  });

  it('no command, or one that does not exist, ends with 2', () => {
    expect(runCli().code).toBe(2);
    expect(runCli('polish').code).toBe(2);
  });
});
