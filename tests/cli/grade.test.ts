import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { makePhantom } from '../phantoms/make-phantom.js';
import { gradeFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';

const SEED = 58;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-grade-'));
const at = (name: string): string => join(folder, name);
const lengthOf = (name: string): number => {
  const [low, , , high] = bounds(readMesh(readFileSync(at(name)), { maxTriangles: 1e6 }).mesh.positions);
  return high - low;
};
interface Row { readonly id: string; readonly before: number; readonly asked: number; readonly got: number }

beforeAll(async () => {
  await buildPackages();
  const { scan, truth } = makePhantom(SEED, { triangles: 15_000, denseTriangles: 15_000, top: 'cut', rise: 90, unit: 'mm', dents: 1, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, oddities: [] });
  writeFileSync(at('scan.stl'), writeStl(scan));
  writeFileSync(at('rules.json'), '{ "name": "boots", "last": { "toeAllowanceMm": 10, "toeBox": { "level": true }, "topHeightMm": 80 } }');
  expect(runCli('process', at('scan.stl'), '--side', truth.side, '--rules', at('rules.json'), '--out', at('made'), '--no-sheet', '--quiet')).toEqual({ code: 0, out: '', err: '' });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`grade, on the last of seed ${SEED}`, () => {
  it('makes every size in every width, as long as asked and on the tape within 0.3 mm', () => {
    const ran = runCli('grade', at('made'), '--system', 'uk', '--sizes', '-1,1', '--widths', '0..1', '--out', at('run'));
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toContain('uk-1-width+0: length of the last ');
    const report = JSON.parse(readFileSync(at('run/grade.json'), 'utf8'));
    expect(gradeFaults(report)).toEqual([]);
    expect(gradeFaults({ ...report, lasts: [] })).not.toEqual([]);
    expect(report.lasts.map((l: { name: string }) => l.name)).toEqual(['uk-1-width+0', 'uk-1-width+1', 'uk+1-width+0', 'uk+1-width+1']);
    for (const { changes } of report.lasts as { changes: Row[] }[]) for (const { asked, got, id } of changes) expect(Math.abs(asked - got), id).toBeLessThan(0.3);
    const [smaller, , larger] = report.lasts as { changes: Row[] }[];
    // A third of an inch a size (ISO/TS 19407:2015, second-hand), read from the files.
    expect(lengthOf('run/last-uk+1-width+0.stl') - lengthOf('run/last-uk-1-width+0.stl')).toBeCloseTo((2 * 25.4) / 3, 1);
    expect(larger.changes[1].got - smaller.changes[1].got).toBeCloseTo(12.7, 0);
    expect(readFileSync(at('run/grade.csv'), 'utf8').split('\r\n')[0]).toBe('last,measure,approved mm,asked mm,got mm');
    expect(readdirSync(at('run'))).toHaveLength(10);
  });

  it('meets a tape, and takes away what an earlier run left', () => {
    const report = JSON.parse(readFileSync(at('run/grade.json'), 'utf8'));
    const [length, ball] = (report.lasts[0].changes as Row[]).map((c) => c.before);
    const ran = runCli('grade', at('made'), '--length', String(length + 3), '--ball', String(ball - 4), '--rules', at('rules.json'), '--out', at('run'), '--json');
    const { lasts } = JSON.parse(ran.out);
    expect(lasts.map((l: { name: string }) => l.name)).toEqual(['by-tape']);
    for (const { asked, got } of lasts[0].changes as Row[]) expect(Math.abs(asked - got)).toBeLessThan(0.3);
    expect(readdirSync(at('run')).sort()).toEqual(['grade.csv', 'grade.json', 'last-by-tape.3mf', 'last-by-tape.stl']);
  });

  it('says what is wrong with a call, and refuses what is another last', () => {
    const call = (...options: string[]) => runCli('grade', at('made'), '--rules', at('rules.json'), '--out', at('never'), ...options);
    expect(call().code).toBe(2);
    expect(call('--sizes', '1').err).toContain('--system');
    expect(call('--system', 'uk', '--sizes', '1/3').code).toBe(2);
    expect(call('--length', '250').err).toContain('--ball');
    expect(call('--length', '250', '--ball', '230', '--sizes', '1').code).toBe(2);
    const far = call('--length', '500', '--ball', '230');
    expect(far).toMatchObject({ code: 3, out: '' });
    expect(far.err).toContain('grade-out-of-reach');
    expect(readdirSync(folder)).not.toContain('never');
  });
});
