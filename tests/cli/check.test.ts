import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom } from '../phantoms/make-phantom.js';
import { pdfPages } from '../support/pdf-text.js';
import { checkFaults } from '../support/report-schema.js';
import { buildPackages, runCli } from '../support/run-cli.js';
import type { Ran } from '../support/run-cli.js';

const SEED = 42;
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-check-'));
const at = (name: string): string => join(folder, name);
const scan = at('4109-left.stl');
const order = at('order.json');
/** Rules under which any cast has to be taken again, and under which none has. */
const severe = at('severe.json');
const lenient = at('lenient.json');

beforeAll(async () => {
  await buildPackages();
  const phantom = makePhantom(SEED, { triangles: 12_000, denseTriangles: 12_000, side: 'left', top: 'cut', dents: 0, bumps: 0, ridges: 0, seam: false, holes: 1, debris: false, missingSole: false, unit: 'mm' });
  writeFileSync(scan, writeStl(phantom.scan));
  const footbed = { heelHeightMm: 0, heelToHingeMm: 180, hingeToToeMm: 80 };
  writeFileSync(order, JSON.stringify({ orderNumber: '4109', customerNumber: 'K-0815', sides: ['left'], date: '2026-03-17', remarks: 'ski boot liner', discipline: 'curling', footbed }));
  const wide = { care: 40, recast: 44 };
  const easy = {
    soleBend: wide, heelOnPlate: wide, forefootTwist: wide, ballOnHinge: { care: 70, recast: 80 }, soleFlatness: { care: 15, recast: 20 }, toeBox: { care: 0.3, recast: 0.3 },
    beyondToes: { care: 140, recast: 150 }, closing: { care: 50, recast: 60 }, cutStep: { care: 15, recast: 20 }, madeUp: { care: 90, recast: 100 },
    disciplines: { other: { forwardLean: wide, rearView: wide } },
  };
  writeFileSync(lenient, JSON.stringify({ check: easy }));
  writeFileSync(severe, JSON.stringify({ check: { ...easy, toeBox: { care: 1.2, recast: 1.2 } }, sheet: { paper: 'letter' } }));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const check = (...args: string[]): Ran => runCli('check', scan, '--side', 'left', '--order', order, ...args);
const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));

describe(`check, on the phantom of seed ${SEED}`, () => {
  it('prints the verdict first, then what is wrong, then every reading with its limits; ends with 0 whatever the verdict', () => {
    const ran = check('--rules', severe, '--out', at('out'));
    expect(ran.code).toBe(0);
    const [first, second] = ran.out.split('\n');
    expect(first).toBe('order 4109, left: cast again');
    expect(second).toMatch(/^ {2}recast: The toes are /);
    expect(ran.out).toContain('“curling”');
    expect(ran.out).toMatch(/reading +measured +wanted +care beyond +recast beyond/);
    expect(ran.out).toMatch(/top edge +\d+\.\d ± \d+\.\d mm +\d+\.\d/);
    expect(ran.out).toMatch(/written to .*: check\.json, recast-note\.pdf/);
    expect(ran.err).toContain('checking the cast: ');
    expect(ran.err).not.toContain('building the last');
    expect(readdirSync(at('out')).sort()).toEqual(['check.json', 'recast-note.pdf']);
  });

  it('writes a report that fits its schema, and a note of one page without a word on the customer', () => {
    const report = json(at('out/check.json'));
    expect(checkFaults(report)).toEqual([]);
    expect(report.castCheck.verdict).toBe('recast');
    expect(report.casting).toMatchObject({ discipline: 'curling', footbed: { hingeHeightMm: 0 } });
    expect(report.stages.at(-1).name).toBe('draw-note');
    const pages = pdfPages(readFileSync(at('out/recast-note.pdf')));
    expect(pages).toHaveLength(1);
    expect([pages[0].width, pages[0].height]).toEqual([612, 792]);
    expect(pages[0].text).toContain('Order 4109');
    expect(pages[0].text).toContain('The toes look squeezed together');
    for (const secret of ['K-0815', 'ski boot', '4109-left.stl']) expect(pages[0].text).not.toContain(secret);
  });

  it('takes an older note away where the cast is good, and prints the report with --json', () => {
    const ran = check('--rules', lenient, '--out', at('out'), '--json', '--quiet');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(ran.out)).toEqual(json(at('out/check.json')));
    expect(JSON.parse(ran.out).castCheck.verdict).not.toBe('recast');
    expect(readdirSync(at('out'))).toEqual(['check.json']);
  });

  it('writes nothing without --out, and says nothing with --quiet', () => {
    const before = readdirSync(folder).sort();
    expect(check('--rules', severe, '--quiet')).toEqual({ code: 0, out: '', err: '' });
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it('refuses what process refuses, with 3, and a wrong call with 2', () => {
    writeFileSync(at('bad.json'), JSON.stringify({ orderNumber: '1', footbed: { heelHeightMm: -3, heelToHingeMm: 170, hingeToToeMm: 80 } }));
    const refused = runCli('check', scan, '--side', 'left', '--order', at('bad.json'), '--out', at('x'));
    expect(refused.code).toBe(3);
    expect(refused.err).toContain('refused (bad-order): ');
    expect(refused.err).toContain('footbed.heelHeightMm: must be at least 0 mm');
    expect(runCli('check', scan, '--side', 'right', '--order', order).code).toBe(3);
    expect(runCli('check', scan).code).toBe(2);
    expect(runCli('check', scan, '--side', 'left', '--no-sheet').code).toBe(2);
    expect(runCli('check', scan, '--side', 'left', '--out', scan).err).toContain('is a file');
    expect(readdirSync(folder)).not.toContain('x');
  });
});

describe('process', () => {
  it('puts the note beside the last where the cast has to be taken again, and takes away notes of before', () => {
    const run = (rules: string): Ran => runCli('process', scan, '--side', 'left', '--order', order, '--rules', rules, '--out', at('made'), '--no-sheet');
    const recast = run(severe);
    expect(recast.code).toBe(0);
    expect(recast.out.split('\n')[0]).toBe('order 4109, left: cast again');
    expect(recast.err).toContain('drawing the note to the customer: ');
    expect(readdirSync(at('made'))).toContain('recast-note.pdf');
    expect(readdirSync(at('made'))).toContain('last.stl');
    writeFileSync(at('made/check.json'), '{}');
    expect(run(lenient).code).toBe(0);
    expect(readdirSync(at('made'))).not.toContain('recast-note.pdf');
    expect(readdirSync(at('made'))).not.toContain('check.json');
  });
});
