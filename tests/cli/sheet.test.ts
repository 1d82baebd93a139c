import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom } from '../phantoms/make-phantom.js';
import { sizeMm, strokedPaths } from '../support/pdf-paths.js';
import { pdfPages } from '../support/pdf-text.js';
import { sheetFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';

const SEED = 43;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-sheet-'));
const at = (name: string): string => join(folder, name);
const textOf = (name: string): string => pdfPages(readFileSync(at(name))).map((p) => p.text).join('\n');

beforeAll(async () => {
  await buildPackages();
  const phantom = makePhantom(SEED, { triangles: 20_000, denseTriangles: 20_000, side: 'right', top: 'cut', dents: 2, bumps: 1, ridges: 0, seam: false, holes: 0, debris: false, unit: 'mm' });
  writeFileSync(at('4107-right.stl'), writeStl(phantom.scan));
  writeFileSync(at('order.json'), JSON.stringify({ orderNumber: '4107', customerNumber: 'K-9', date: '2026-03-17' }));
  writeFileSync(at('rules.json'), JSON.stringify({ last: { topHeightMm: 60, sole: { featherRadiusMm: 2 } } }));
  const ran = runCli('process', at('4107-right.stl'), '--side', 'right', '--order', at('order.json'), '--rules', at('rules.json'), '--out', at('cast'), '--quiet');
  expect(ran).toEqual({ code: 0, out: '', err: '' });
  // The same results as those of a left foot: only the report's word is looked at.
  cpSync(at('cast'), at('other'), { recursive: true });
  const report = JSON.parse(readFileSync(at('cast/report.json'), 'utf8'));
  writeFileSync(at('other/report.json'), JSON.stringify({ ...report, scan: { ...report.scan, side: 'left' } }));
  cpSync(at('cast'), at('bare'), { recursive: true });
  rmSync(at('bare/sheet.json'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`sheet, on the results of the phantom of seed ${SEED}`, () => {
  it('draws the sheet that process drew, from the files that it left', () => {
    expect(runCli('sheet', at('cast'), '--out', at('again.pdf'))).toEqual({ code: 0, out: `written to ${at('again.pdf')}\n`, err: '' });
    expect(textOf('again.pdf')).toBe(textOf('cast/sheet.pdf'));
    expect(textOf('again.pdf')).toContain('feather line');
    expect(sheetFaults(JSON.parse(readFileSync(at('cast/sheet.json'), 'utf8')))).toEqual([]);
    // Files hold 32-bit coordinates and tapes to hundredths: what is drawn lies where it lay within a hair.
    const sizes = (name: string): number[][] => pdfPages(readFileSync(at(name))).map(({ operators }) => sizeMm(strokedPaths(operators)));
    const drawn = sizes('cast/sheet.pdf');
    sizes('again.pdf').forEach((size, i) => size.forEach((length, k) => expect(Math.abs(length - drawn[i][k])).toBeLessThan(0.05)));
  });

  it('changes paper and language, sets the other foot beside it, and says who approved it', () => {
    const ran = runCli('sheet', at('cast'), '--paper', 'letter', '--language', 'de', '--pair', at('other'), '--approved-by', 'M. Keller', '--approved-on', '2026-03-19', '--out', at('de.pdf'));
    expect(ran.code).toBe(0);
    const [first] = pdfPages(readFileSync(at('de.pdf')));
    expect([first.width, first.height]).toEqual([612, 792]);
    for (const words of ['Auftrag 4107', 'RECHTS', 'Kunde K-9', 'Ballenumfang', 'Freigegeben von M. Keller, 2026-03-19', 'rechts − links']) expect(first.text).toContain(words);
  });

  it('does without sheet.json: the same figures, the order named as the scan', () => {
    expect(runCli('sheet', at('bare'), '--out', at('bare.pdf')).code).toBe(0);
    const text = textOf('bare.pdf');
    expect(text).toContain('Order 4107-right');
    expect(text).toContain('feather line');
    expect(text).not.toContain('K-9');
    const figures = (name: string): string[] => textOf(name).match(/\d+\.\d ± <?\d+\.\d mm/g) ?? [];
    expect(figures('bare.pdf').length).toBeGreaterThan(6);
    expect(figures('bare.pdf')).toEqual(figures('cast/sheet.pdf'));
  });

  it('does not take the drawing of another cast', () => {
    const report = JSON.parse(readFileSync(at('cast/report.json'), 'utf8'));
    cpSync(at('cast'), at('mixed'), { recursive: true });
    writeFileSync(at('mixed/report.json'), JSON.stringify({ ...report, scan: { ...report.scan, sha256: '0'.repeat(64) } }));
    expect(runCli('sheet', at('mixed'), '--out', at('mixed.pdf')).code).toBe(0);
    expect(textOf('mixed.pdf')).toContain('Order 4107-right');
  });

  it('says so where there is a sheet.json that cannot be read', () => {
    cpSync(at('bare'), at('unread'), { recursive: true });
    mkdirSync(at('unread/sheet.json'));
    const ran = runCli('sheet', at('unread'), '--out', at('x.pdf'));
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('sheet.json: it is a folder')]);
  });

  it.each([
    ['no folder', ['--out', at('x.pdf')]],
    ['no file to write', [at('cast')]],
    ['a folder without results', [folder, '--out', at('x.pdf')]],
    ['a name without a date', [at('cast'), '--approved-by', 'M. Keller', '--out', at('x.pdf')]],
    ['a date that is none', [at('cast'), '--approved-by', 'M. Keller', '--approved-on', '2026-02-30', '--out', at('x.pdf')]],
    ['another kind of file', [at('cast'), '--out', at('x.txt')]],
    ['an unknown language', [at('cast'), '--language', 'xx', '--out', at('x.pdf')]],
  ])('with %s ends with 2 and writes nothing', (_, args) => {
    const ran = runCli('sheet', ...args);
    expect(ran.code).toBe(2);
    expect(ran.err).not.toBe('');
    expect(readdirSync(folder).filter((name) => name.startsWith('x.') || name.includes('.part'))).toEqual([]);
  });

  it('refuses a report, and a sheet.json, that cannot be used, with the path of the key', () => {
    cpSync(at('cast'), at('broken'), { recursive: true });
    const stored = JSON.parse(readFileSync(at('cast/sheet.json'), 'utf8'));
    writeFileSync(at('broken/sheet.json'), JSON.stringify({ ...stored, drawn: { ...stored.drawn, stations: 7 } }));
    const sheet = runCli('sheet', at('broken'), '--out', at('x.pdf'));
    expect(sheet.code).toBe(3);
    expect(sheet.err).toContain('drawn.stations');
    const report = JSON.parse(readFileSync(at('cast/report.json'), 'utf8'));
    writeFileSync(at('broken/report.json'), JSON.stringify({ ...report, marks: [{}] }));
    const ran = runCli('sheet', at('broken'), '--out', at('x.pdf'));
    expect(ran.code).toBe(3);
    expect(ran.err).toContain('refused (bad-report)');
    expect(ran.err).toContain('marks[0].id');
  });
});
