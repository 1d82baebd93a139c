import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pdfPages } from '../support/pdf-text.js';
import { reportFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';

/** What the first command that wrote report.json left of a synthetic cast; written once, never anew. */
const FIRST = new URL('./first-report/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-first-report-'));
const at = (name: string): string => join(folder, name);
const report = JSON.parse(readFileSync(new URL('report.json', FIRST), 'utf8'));

beforeAll(async () => {
  await buildPackages();
  writeFileSync(at('report.json'), JSON.stringify(report));
  for (const name of ['cleaned.stl', 'last.stl']) writeFileSync(at(name), gunzipSync(readFileSync(new URL(`${name}.gz`, FIRST))));
  writeFileSync(at('rules.json'), '{}');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a folder of the first version', () => {
  it('is compared: with itself nothing differs', () => {
    const ran = runCli('compare', folder, folder, '--json');
    expect(ran).toMatchObject({ code: 0, err: '' });
    const { casts, measures, deviation } = JSON.parse(ran.out);
    expect(casts[0]).toMatchObject({ file: report.scan.file, sha256: report.scan.sha256, side: 'left', load: null, verdict: report.castCheck.verdict });
    const then = new Map(report.measurements.filter(({ on }: { on: string }) => on === 'cast').map((m: { id: string; value?: number }) => [m.id, m.value]));
    const length = measures.find(({ id }: { id: string }) => id === 'foot-length');
    expect(length.first).toBe(then.get('foot-length'));
    expect(measures.every(({ difference }: { difference: number | null }) => difference === null || difference === 0)).toBe(true);
    expect(Math.abs(deviation.overall.medianMm)).toBeLessThan(1e-6);
  });

  it('has its sheet drawn again, with the measures of then', () => {
    const ran = runCli('sheet', folder, '--out', at('sheet.pdf'));
    expect(ran).toMatchObject({ code: 0 });
    const text = pdfPages(readFileSync(at('sheet.pdf'))).map((page) => page.text).join(' ');
    expect(text).toContain(report.scan.file);
    const ball = report.measurements.find(({ id, on }: { id: string; on: string }) => id === 'ball-girth' && on === 'cast');
    expect(text).toContain(ball.value.toFixed(1));
  });

  it('has its last made again, by rules that are named', () => {
    expect(runCli('make', folder, '--out', at('made')).err).toContain('--rules');
    expect(runCli('make', folder, '--rules', at('rules.json'), '--out', at('made'), '--quiet')).toEqual({ code: 0, out: '', err: '' });
  });

  it('has its last graded: one Paris point longer (2/3 cm, ISO/TS 19407)', () => {
    const ran = runCli('grade', folder, '--system', 'paris-point', '--sizes', '1', '--rules', at('rules.json'), '--out', at('graded'), '--json');
    expect(ran).toMatchObject({ code: 0, err: '' });
    const [length] = JSON.parse(ran.out).lasts[0].changes;
    expect(length).toMatchObject({ id: 'grade-length', asked: expect.closeTo(length.before + 20 / 3, 3) });
    expect(Math.abs(length.got - length.asked)).toBeLessThan(0.3);
  });

  it('is of a form that its schema of today describes but for what was not told then', () => {
    const missing = reportFaults(report);
    expect(missing.length).toBeGreaterThan(0);
    expect(missing.every((fault) => /required/.test(JSON.stringify(fault)))).toBe(true);
  });
});
