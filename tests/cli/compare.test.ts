import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom } from '../phantoms/make-phantom.js';
import { pdfPages } from '../support/pdf-text.js';
import { compareFaults, reportFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';

const FOOT_SEED = 43;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-compare-'));
const at = (name: string): string => join(folder, name);
const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));

const OPTIONS = { footSeed: FOOT_SEED, triangles: 10_000, denseTriangles: 10_000, top: 'cut', dents: 1, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, oddities: [], unit: 'mm' } as const;

beforeAll(async () => {
  await buildPackages();
  for (const [name, seed, side, load, grown] of [['left', 431, 'left', 'seated', 1], ['right', 432, 'right', 'seated', 1], ['larger', 432, 'right', 'full', 1.06]] as const) {
    const { scan } = makePhantom(seed, { ...OPTIONS, side });
    writeFileSync(at(`${name}.stl`), writeStl({ positions: scan.positions.map((c) => c * grown), triangles: scan.triangles }));
    writeFileSync(at(`${name}.json`), JSON.stringify({ orderNumber: '4112', load }));
    const ran = runCli('process', at(`${name}.stl`), '--side', side, '--order', at(`${name}.json`), '--out', at(name), '--no-sheet', '--quiet');
    expect(ran).toEqual({ code: 0, out: '', err: '' });
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`compare, on the feet of seed ${FOOT_SEED}`, () => {
  it('lays left on right, writes what its schema describes, and says it in words', () => {
    const ran = runCli('compare', at('left'), at('right'), '--out', at('pair'));
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toContain('left (mirrored) and right: left.stl, right.stl');
    expect(ran.out).toMatch(/foot length, mm +\d+\.\d +\d+\.\d +[+-]?\d+\.\d ± \d+\.\d +6\n/);
    expect(ran.out).toMatch(/all +[+-]?\d+\.\d\d +\d+\.\d\d\n/);
    expect(readdirSync(at('pair')).sort()).toEqual(['compare.json', 'compare.pdf', 'deviation.glb']);
    const report = json(at('pair/compare.json'));
    expect(compareFaults(report)).toEqual([]);
    expect(report).toMatchObject({ relation: 'other-side', casts: [{ side: 'left', load: 'seated' }, { side: 'right' }], registration: { mirrored: true } });
    expect(report.registration.usedShare).toBeGreaterThan(0.6);
    expect(readFileSync(at('pair/deviation.glb')).subarray(0, 4).toString('latin1')).toBe('glTF');
    const pages = pdfPages(readFileSync(at('pair/compare.pdf')));
    expect(pages).toHaveLength(2);
    for (const words of ['Left foot, mirrored, and right foot', 'left.stl', 'right.stl', `${(100 * report.registration.usedShare).toFixed(0)} % of the foot`]) expect(pages[0].text.replaceAll(/\s+/g, ' ')).toContain(words);
    expect(pages[1].text).toContain('Map of the deviation');
  });

  it('draws the picture on the paper and in the language of the rules', () => {
    writeFileSync(at('letter.json'), '{ "sheet": { "paper": "letter", "language": "de" } }');
    expect(runCli('compare', at('larger'), at('right'), '--rules', at('letter.json'), '--out', at('german')).code).toBe(0);
    const [first] = pdfPages(readFileSync(at('german/compare.pdf')));
    expect([first.width, first.height]).toEqual([612, 792]);
    for (const words of ['Zweimal der rechte Fuß', 'Ballenumfang', 'darüber']) expect(first.text).toContain(words);
  });

  it('finds what differs, loads among it, and prints it as JSON; the same foot is not mirrored', () => {
    const ran = runCli('compare', at('larger'), at('right'), '--json');
    expect(ran).toMatchObject({ code: 0, err: '' });
    const report = JSON.parse(ran.out);
    expect(compareFaults(report)).toEqual([]);
    expect(report.relation).toBe('same-side');
    const length = report.measures.find((m: { id: string }) => m.id === 'foot-length');
    expect(length.difference / length.second).toBeCloseTo(0.06, 2);
    expect(report.findings.map((f: { code: string }) => f.code)).toEqual(expect.arrayContaining(['pair-load', 'pair-foot-length', 'pair-ball-girth']));
    expect(report.deviation.overall.medianMm).toBeGreaterThan(0.5);
  });

  it('obeys the limits of the rules', () => {
    writeFileSync(at('loose.json'), '{ "check": { "pair": { "lengthMm": 40, "girthMm": 40, "pitchDeg": 30, "leanDeg": 30 } } }');
    const codes = JSON.parse(runCli('compare', at('larger'), at('right'), '--json', '--rules', at('loose.json')).out).findings.map((f: { code: string }) => f.code);
    expect(codes).toEqual(['pair-load']);
  });

  it('refuses a report that it cannot use with 3, and folders that are none with 2', () => {
    mkdirSync(at('odd'));
    copyFileSync(at('left/cleaned.stl'), at('odd/cleaned.stl'));
    writeFileSync(at('odd/report.json'), '{ "schema": 1, "scan": { "side": "upper" } }');
    const ran = runCli('compare', at('odd'), at('right'));
    expect(ran.err).toContain('refused (bad-report): ');
    expect(ran.err).toContain('scan.side');
    expect(ran).toMatchObject({ code: 3, out: '' });
    expect(runCli('compare', at('nowhere'), at('right')).code).toBe(2);
    expect(runCli('compare', at('left')).code).toBe(2);
  });
});

describe('compare, of lasts and mesh files', () => {
  it('compares the lasts of two folders by the measures of the lasts', () => {
    const report = JSON.parse(runCli('compare', at('larger'), at('right'), '--of', 'last', '--json').out);
    expect(compareFaults(report)).toEqual([]);
    expect(report.casts.map((c: { of: string }) => c.of)).toEqual(['last', 'last']);
    const length = report.measures.find((m: { id: string }) => m.id === 'foot-length');
    expect(length.first).toBeCloseTo(json(at('larger/report.json')).measurements.find((m: { id: string; on: string }) => m.id === 'foot-length' && m.on === 'last').value, 3);
  });

  it('takes scans in any pose as they are, and a scan beside a folder', () => {
    const scans = JSON.parse(runCli('compare', at('larger.stl'), at('right.stl'), '--side', 'right', '--json').out);
    expect(compareFaults(scans)).toEqual([]);
    expect(scans.casts[0]).toMatchObject({ of: 'file', kind: null, verdict: null, side: 'right' });
    const mixed = JSON.parse(runCli('compare', at('right.stl'), at('right'), '--side', 'right', '--json').out);
    // The same cast before and after it was cleaned: apart from its marks the surfaces are one.
    expect(Math.abs(mixed.deviation.overall.medianMm)).toBeLessThan(0.1);
    expect(mixed.registration.rmsMm).toBeLessThan(0.2);
  });

  it('wants to know the side of a mesh file, and refuses one that is no foot', () => {
    const ran = runCli('compare', at('right.stl'), at('right'));
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('--side');
    expect(runCli('compare', at('right.json'), at('right'), '--side', 'right').code).toBe(3);
  });
});

describe('process --pair', () => {
  it('adds what the comparison found to the check of this cast', () => {
    const ran = runCli('process', at('larger.stl'), '--side', 'right', '--order', at('larger.json'), '--out', at('with-pair'), '--pair', at('left'), '--no-sheet', '--quiet');
    expect(ran).toEqual({ code: 0, out: '', err: '' });
    const [alone, paired] = [json(at('larger/report.json')), json(at('with-pair/report.json'))];
    expect(reportFaults(paired)).toEqual([]);
    const codes = (report: { castCheck: { findings: { code: string }[] } }): string[] => report.castCheck.findings.map((f) => f.code);
    expect(codes(paired).filter((c) => !c.startsWith('pair-'))).toEqual(codes(alone));
    expect(codes(paired)).toEqual(expect.arrayContaining(['pair-load', 'pair-foot-length']));
    expect(paired.castCheck.findings.find((f: { code: string }) => f.code === 'pair-load').text).toContain('this cast with the full body weight, the left cast with the weight of the seated leg');
    expect(paired.castCheck.verdict).not.toBe('usable');
  });

  it('wants a folder of results before it begins', () => {
    expect(runCli('process', at('larger.stl'), '--side', 'right', '--out', at('never'), '--pair', at('nowhere')).code).toBe(2);
    expect(readdirSync(folder)).not.toContain('never');
  });
});
