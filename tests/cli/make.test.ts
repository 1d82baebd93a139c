import { appendFileSync, cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { sha256 } from '@cast-to-last/pipeline/digest';
import { makePhantom } from '../phantoms/make-phantom.js';
import { makingFaults } from '../support/making-schema.js';
import { readThreeMf } from '../support/read-threemf.js';
import { reportFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';

const SEED = 43;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-make-'));
const at = (name: string): string => join(folder, name);
const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const RULES = { name: 'winter boots', version: '2', last: { topHeightMm: 75 }, making: { print: { body: 'hollow', wallMm: 4, split: { by: 'wedge' } } } };
/** Of a file whose triangles have corners of their own. */
const meshOf = (path: string) => weld(readMesh(readFileSync(path)).mesh, 1e-9).mesh;

beforeAll(async () => {
  await buildPackages();
  const phantom = makePhantom(SEED, { triangles: 12_000, denseTriangles: 12_000, side: 'left', top: 'cut', rise: 110, dents: 2, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, unit: 'mm' });
  writeFileSync(at('scan.stl'), writeStl(phantom.scan));
  writeFileSync(at('order.json'), JSON.stringify({ orderNumber: '4108', date: '2026-03-18' }));
  writeFileSync(at('rules.json'), JSON.stringify(RULES));
  const first = runCli('process', at('scan.stl'), '--side', 'left', '--order', at('order.json'), '--out', at('cast'), '--quiet');
  expect(`${first.code} ${first.err}`).toBe('0 ');
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`make, from the results of the phantom of seed ${SEED}`, () => {
  it('by the same rules gives the same last', () => {
    const ran = runCli('make', at('cast'), '--out', at('same'), '--quiet');
    expect([ran.code, ran.out, ran.err]).toEqual([0, '', '']);
    const [before, after] = [json(at('cast/report.json')), json(at('same/report.json'))];
    expect(after.last.triangles).toBe(before.last.triangles);
    expect(after.last.volume / before.last.volume).toBeCloseTo(1, 6);
    expect(after.measurements).toEqual(before.measurements);
    expect(after.castCheck).toEqual(before.castCheck);
    expect([...bounds(meshOf(at('same/last.stl')).positions)]).toEqual([...bounds(meshOf(at('cast/last.stl')).positions)]);
  }, 60_000);

  it('by other rules gives another last, its report and its files for printing and milling, all whole', async () => {
    const ran = runCli('make', at('cast'), '--rules', at('rules.json'), '--out', at('other'));
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('print wedge: plate 1');
    expect(readdirSync(at('other')).sort()).toEqual(
      ['cleaned.stl', 'last.3mf', 'last.stl', 'making.json', 'measures.csv', 'milling.json', 'plan.svg', 'print-1.3mf', 'print-fore.stl', 'print-heel.stl', 'print-wedge.stl', 'report.json', 'rules.json'],
    );
    const report = json(at('other/report.json'));
    expect(reportFaults(report)).toEqual([]);
    expect(report.rules).toMatchObject({ name: 'winter boots', version: '2' });
    expect(report.last.allowances.topHeightMm).toBe(75);
    expect(report.marks).toEqual(json(at('cast/report.json')).marks);
    expect(report.warnings.join()).toContain('made again');
    for (const [name, digest] of Object.entries(report.files)) expect([name, sha256(readFileSync(at(`other/${name}`)))]).toEqual([name, digest]);
    const making = json(at('other/making.json'));
    expect(makingFaults(making)).toEqual([]);
    // The folder's sheet knows the order.
    expect(making.order).toBe('4108');
    const last = meshOf(at('other/last.stl'));
    expect(bounds(last.positions)[5]).toBeCloseTo(75, 4);
    expect(signedVolume(last) / report.last.volume).toBeCloseTo(1, 5);
    const { objects } = await readThreeMf(readFileSync(at('other/print-1.3mf')));
    expect(objects.map((o) => o.name)).toEqual(['wedge', 'heel', 'fore']);
    for (const { mesh } of objects) expect(twins(mesh).every((h) => h >= 0)).toBe(true);
  }, 60_000);

  it('can make it again from what it made itself, and takes earlier pieces away', () => {
    writeFileSync(at('plain.json'), JSON.stringify({ name: 'plain', version: '1' }));
    const ran = runCli('make', at('other'), '--rules', at('plain.json'), '--order-number', '4109', '--out', at('other'), '--json');
    expect(ran.code).toBe(0);
    expect(JSON.parse(ran.out)).toEqual(json(at('other/making.json')));
    expect(JSON.parse(ran.out).order).toBe('4109');
    expect(readdirSync(at('other')).filter((name) => name.startsWith('print-')).sort()).toEqual(['print-1.3mf', 'print-last.stl']);
    expect(json(at('other/report.json')).last.volume / json(at('cast/report.json')).last.volume).toBeCloseTo(1, 6);
    // The number that was given is known from then on.
    expect(runCli('make', at('other'), '--rules', at('plain.json'), '--out', at('other'), '--quiet').code).toBe(0);
    expect(json(at('other/making.json')).order).toBe('4109');
    expect(json(at('other/report.json')).warnings.filter((w: string) => w.includes('made again'))).toHaveLength(1);
  }, 60_000);

  it('refuses a folder whose cast was changed, one that is none of ours, and rules that it does not know', () => {
    cpSync(at('cast'), at('changed'), { recursive: true });
    appendFileSync(at('changed/cleaned.stl'), 'x');
    const changed = runCli('make', at('changed'), '--out', at('none'));
    expect([changed.code, changed.err]).toEqual([3, expect.stringContaining('cast-changed')]);

    cpSync(at('cast'), at('strange'), { recursive: true });
    const report = json(at('cast/report.json'));
    writeFileSync(at('strange/report.json'), JSON.stringify({ ...report, transform: [1, 2, 3] }));
    const strange = runCli('make', at('strange'), '--out', at('none'));
    expect([strange.code, strange.err]).toEqual([3, expect.stringContaining('bad-report')]);

    writeFileSync(at('strange/report.json'), JSON.stringify({ ...report, rules: { ...report.rules, sha256: '0'.repeat(64) } }));
    const unknown = runCli('make', at('strange'), '--out', at('none'));
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('--rules')]);

    cpSync(at('cast/report.json'), at('strange/report.json'));
    writeFileSync(at('strange/sheet.json'), '{');
    const sheet = runCli('make', at('strange'), '--out', at('none'));
    expect([sheet.code, sheet.err]).toEqual([3, expect.stringContaining('refused (bad-report)')]);
    rmSync(at('strange/sheet.json'));

    expect(runCli('make', at('nowhere'), '--out', at('none')).code).toBe(2);
    expect(readdirSync(folder)).not.toContain('none');
  }, 60_000);

  it('finds by itself, in reports of earlier versions, a file that holds no cast', () => {
    const { files: _, ...older } = json(at('cast/report.json'));
    writeFileSync(at('strange/report.json'), JSON.stringify(older));
    const mesh = readMesh(readFileSync(at('cast/cleaned.stl'))).mesh;
    // Every tenth triangle is missing.
    writeFileSync(at('strange/cleaned.stl'), writeStl({ positions: mesh.positions, triangles: mesh.triangles.filter((_v, i) => Math.floor(i / 3) % 10 > 0) }));
    const ran = runCli('make', at('strange'), '--out', at('none'));
    expect([ran.code, ran.err]).toEqual([3, expect.stringContaining('cast-changed')]);
  });
});
