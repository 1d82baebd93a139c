import { beforeAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { CastInput, CastOutcome, Step } from '@cast-to-last/pipeline/outcome';
import { drawSheetKey, makeLast } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom } from '../phantoms/make-phantom.js';

const SEED = 23;
let input: CastInput;
let first: CastOutcome;

/** A host that stores every result under its key and hands it back; `ran` names the stages that had to run. */
class StoringHost {
  readonly results = new Map<string, unknown>();
  ran: string[] = [];
  keys: string[] = [];
  readonly step: Step = async <T>(name: string, key: string, run: () => T | Promise<T>): Promise<T> => {
    this.keys.push(key);
    if (!this.results.has(key)) {
      this.ran.push(name);
      this.results.set(key, await run());
    }
    return this.results.get(key) as T;
  };

  /** The stages that ran since this was last asked. */
  since(): string[] {
    const { ran } = this;
    this.ran = [];
    return ran;
  }
}

const host = new StoringHost();
const FROM_MARKS = ['find-marks', 'smooth-marks', 'measure', 'check-cast', 'build-last'];
const ALL = ['read-scan', 'repair', 'shell', 'align', ...FROM_MARKS];

beforeAll(async () => {
  const phantom = makePhantom(SEED, { triangles: 20_000, denseTriangles: 20_000, side: 'left', top: 'cut', dents: 2, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, noise: 0.03, weave: 0.03, unit: 'mm' });
  input = { bytes: writeStl(phantom.scan), fileName: '4108-left.stl', side: 'left', kind: 'positive', unit: 'auto' };
  first = await makeLast(input, DEFAULT_RULES, NO_DECISIONS, host.step);
});

describe(`makeLast on the phantom of seed ${SEED}`, () => {
  it('runs every stage once, in the order of the work', () => {
    expect(host.since()).toEqual(ALL);
    expect(new Set(host.keys).size).toBe(ALL.length);
  });

  it('runs nothing again for the same input, rules and decisions', async () => {
    const again = await makeLast(input, parseRules({}), parseDecisions({}), host.step);
    expect(host.since()).toEqual([]);
    expect(again.last).toBe(first.last);
    expect(again.rulesSha256).toBe(first.rulesSha256);
  });

  it.each([
    ['the last', { last: { toeAllowanceMm: 8 } }, ['build-last']],
    ['smoothing', { smoothing: { marginMm: 5 } }, ['smooth-marks', 'measure', 'check-cast', 'build-last']],
    ['ridges', { smoothing: { ridges: 'ask' } }, FROM_MARKS],
    ['marks', { marks: { minDepthMm: 0.6 } }, FROM_MARKS],
    ['the paper, which only the sheet reads', { sheet: { paper: 'letter' } }, []],
  ])('runs from the first stage that reads them where the rules on %s change', async (_, rules, expected) => {
    const outcome = await makeLast(input, parseRules(rules), NO_DECISIONS, host.step);
    expect(host.since()).toEqual(expected);
    expect(outcome.rulesSha256).not.toBe(first.rulesSha256);
  });

  it('runs from the marks where the maker decides', async () => {
    await makeLast(input, DEFAULT_RULES, parseDecisions({ patches: [{ centre: [100, 0, 60], radiusMm: 8, decision: 'protect' }] }), host.step);
    expect(host.since()).toEqual(FROM_MARKS);
  });

  it('runs everything where the unit is said, and other bytes have other keys', async () => {
    await makeLast({ ...input, unit: 'mm' }, DEFAULT_RULES, NO_DECISIONS, host.step);
    expect(host.since()).toEqual(ALL);
    const bytes = input.bytes.slice();
    bytes[0] ^= 1;
    const other = await makeLast({ ...input, bytes }, DEFAULT_RULES, NO_DECISIONS, host.step);
    expect(host.since()).toEqual(ALL);
    expect(other.inputSha256).not.toBe(first.inputSha256);
  });

  it('moves no vertex outside the marks, and hands on arrays of one length', () => {
    const { aligned, smoothed, measured } = first;
    expect(smoothed.mesh.triangles).toBe(aligned.mesh.triangles);
    let stayed = 0;
    for (let v = 0; v < smoothed.moved.length; v++) {
      if (smoothed.moved[v] === 1) continue;
      stayed++;
      for (let k = 3 * v; k < 3 * v + 3; k++) if (smoothed.mesh.positions[k] !== aligned.mesh.positions[k]) throw new Error(`vertex ${v} moved`);
    }
    expect(stayed).toBeGreaterThan(0.5 * smoothed.moved.length);
    expect(measured.mesh.positions.length).toBe(aligned.mesh.positions.length);
  });

  it('asks for the wall of a shell scanned from outside, and runs from the shell on where another is given', async () => {
    const outside = { ...input, kind: 'outside' } as const;
    const refused = await makeLast(outside, DEFAULT_RULES, NO_DECISIONS, host.step).catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(CastError);
    expect((refused as CastError).code).toBe('wall-unknown');
    expect(host.since()).toEqual(['read-scan', 'repair', 'shell']);
    const thin = await makeLast({ ...outside, wallMm: 2 }, DEFAULT_RULES, NO_DECISIONS, host.step);
    expect(host.since()).toEqual(['shell', 'align', ...FROM_MARKS]);
    const layered = await makeLast({ ...outside, casting: { plaster: { layers: 8 } } }, DEFAULT_RULES, NO_DECISIONS, host.step);
    expect(host.since()).toEqual(['shell', 'align', ...FROM_MARKS]);
    expect([thin.shelled.wall?.how, layered.shelled.wall?.how, first.shelled.wall]).toEqual(['given', 'layers', null]);
    const girth = (outcome: CastOutcome) => outcome.measured.measurements.find((m) => m.id === 'ball-girth') as { value: number; uncertainty: number };
    expect(girth(first).value - girth(thin).value).toBeGreaterThan(0.85 * 4 * Math.PI);
    expect(girth(first).value - girth(thin).value).toBeLessThan(1.25 * 4 * Math.PI);
    // Eight layers of 0.45 mm, uncertain by a third: 1.2 mm all round, 2π times that on a girth.
    expect(girth(layered).uncertainty).toBeGreaterThan(0.85 * 2 * Math.PI * 1.2);
    expect(girth(layered).uncertainty).toBeLessThan(1.3 * 2 * Math.PI * 1.2);
  });
});

describe('drawSheetKey', () => {
  const header = { orderNumber: '1', date: null };
  const run = { fileName: 'a.stl', programVersion: '0' };
  it('changes with every result, the sheet\'s rules, the rule set\'s name, the header and the run', () => {
    const keys = [
      drawSheetKey(['a', 'b'], DEFAULT_RULES, header, run),
      drawSheetKey(['a', 'c'], DEFAULT_RULES, header, run),
      drawSheetKey(['a', 'b'], parseRules({ sheet: { paper: 'letter' } }), header, run),
      drawSheetKey(['a', 'b'], parseRules({ version: '2' }), header, run),
      drawSheetKey(['a', 'b'], DEFAULT_RULES, { ...header, remarks: 'soft' }, run),
      drawSheetKey(['a', 'b'], parseRules({ sheet: { language: 'de' } }), header, run),
      drawSheetKey(['a', 'b'], DEFAULT_RULES, header, { ...run, programVersion: '1' }),
    ];
    expect(new Set(keys).size).toBe(keys.length);
    expect(drawSheetKey(['a', 'b'], parseRules({}), { ...header }, { ...run })).toBe(keys[0]);
  });
});
