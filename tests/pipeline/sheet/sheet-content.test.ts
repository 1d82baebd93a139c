import { describe, expect, it } from 'vitest';
import type { Measurement } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { buildReport } from '@cast-to-last/pipeline/report/report';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { sheetContent } from '@cast-to-last/pipeline/sheet/sheet-content';
import type { SheetForm, SheetHeader } from '@cast-to-last/pipeline/sheet/sheet-content';
import { parseSheetReport } from '@cast-to-last/pipeline/sheet/sheet-report';
import { shapesOfOutcome } from '@cast-to-last/pipeline/sheet/sheet-shapes';
import { drawOutcomeSheet } from '@cast-to-last/pipeline/stages/draw-sheet';
import type { SheetContent, SheetLine } from '@cast-to-last/sheet/measurement/content';
import { SIZE_CONVENTION } from '@cast-to-last/foot/sizes';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';
import { READING_LABELS } from '@cast-to-last/sheet/words/reading-labels';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { shapeSole } from '@cast-to-last/pipeline/last/shape-sole';
import { eggOutcome } from '../../support/egg-outcome.js';
import { SLAB, edgedSlab } from '../../support/edged-slab.js';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';
import { pdfPages } from '../../support/pdf-text.js';

const header: SheetHeader = { orderNumber: '1042', date: '2026-03-17' };
const run = { fileName: 'order-1042-left.stl', programVersion: '0.1.0' };

function contentOf(outcome: CastOutcome, more: Partial<SheetHeader> = {}, form: Partial<SheetForm> = {}): SheetContent {
  return sheetContent(buildReport(outcome, { ...run, stages: [] }), shapesOfOutcome(outcome), { ...header, ...more }, { ...DEFAULT_RULES.sheet, ...form });
}

function size(lines: readonly SheetLine[]): [number, number] {
  const points = lines.flatMap((l) => [...l.points]);
  const along = (k: number): number[] => points.filter((_, i) => i % 2 === k);
  return [Math.max(...along(0)) - Math.min(...along(0)), Math.max(...along(1)) - Math.min(...along(1))];
}

/** Within 0.2 % of what is expected, mm. */
function expectSize(lines: readonly SheetLine[], width: number, height: number): void {
  const [w, h] = size(lines);
  expect(Math.abs(w - width)).toBeLessThan(0.002 * 260);
  expect(Math.abs(h - height)).toBeLessThan(0.002 * 260);
}

describe('the outlines of a sheet', () => {
  it('are true in size, of cast and last each', () => {
    const { outlines } = contentOf(eggOutcome('right', 1.05));
    expect(outlines.map((o) => o.view)).toEqual(['profile-outer', 'sole']);
    expectSize(outlines[0].cast, 260, 80);
    expectSize(outlines[0].last, 273, 84);
    expectSize(outlines[1].cast, 260, 100);
    expectSize(outlines[1].last, 273, 105);
  });

  it('have the toes to the right, but for a left foot seen from its outside, and the ruler goes with them', () => {
    expect(contentOf(eggOutcome('right')).outlines.map((o) => o.ruler.direction)).toEqual([1, 1]);
    expect(contentOf(eggOutcome('left')).outlines.map((o) => o.ruler.direction)).toEqual([-1, 1]);
    const [profile] = contentOf(eggOutcome('left')).outlines;
    expect(Math.max(...profile.cast[0].points.filter((_, i) => i % 2 === 0))).toBeLessThan(1);
  });

  it('show of a tape the half that is seen', () => {
    const [profile] = contentOf(eggOutcome('right')).outlines;
    expect(profile.tapes.map((t) => t.letter)).toEqual(['A']);
    const [width, height] = size(profile.tapes[0].lines);
    expect(width).toBeLessThan(0.1);
    expect(Math.abs(height - 80)).toBeLessThan(6);
  });
});

describe('the feather line of a sheet', () => {
  const made = shapeSole(edgedSlab({ edge: 12 }), { shape: 'flat', featherRadiusMm: 2 });
  const slabOutcome = ({ changes, body }: typeof made): CastOutcome => {
    const outcome = eggOutcome('right');
    const length: Measurement = { id: 'foot-length', label: 'foot length', value: SLAB.length, unit: 'mm', uncertainty: 0.3, on: 'last', onFilled: 0 };
    return { ...outcome, last: { ...outcome.last, mesh: body.mesh, measurements: [length], allowances: { ...outcome.last.allowances, changes }, featherLine: body.feather ?? new Float64Array(0) } };
  };

  it('runs within the outline of the sole as it lies on the last, and is kept in sheet.json', async () => {
    const outcome = slabOutcome(made);
    const [profile, sole] = contentOf(outcome).outlines;
    expect(profile.feather).toEqual([]);
    const drawn = shapesOfOutcome(outcome).featherLine;
    const along = (k: number): number => {
      const all = [...drawn].filter((_, i) => i % 3 === k);
      return Math.max(...all) - Math.min(...all);
    };
    const [[width, height], [fullWidth, fullHeight]] = [size(sole.feather), size(sole.last)];
    expect(Math.abs(width - along(0))).toBeLessThan(0.3);
    expect(Math.abs(height - along(1))).toBeLessThan(0.3);
    for (const inset of [fullWidth - width, fullHeight - height]) {
      expect(inset).toBeGreaterThan(0.5);
      expect(inset).toBeLessThan(10);
    }
    const { json } = await drawOutcomeSheet(outcome, header, run);
    const { featherLine } = parseStoredDrawing(JSON.parse(new TextDecoder().decode(json)), 'The sheet');
    expect(featherLine).toHaveLength(drawn.length);
    featherLine?.forEach((c, i) => expect(Math.abs(c - drawn[i])).toBeLessThan(0.006));
  });

  it('is not there where the rules made none', () => {
    for (const outline of contentOf(slabOutcome(shapeSole(edgedSlab({ edge: 12 }), { shape: 'flat', featherRadiusMm: null }))).outlines) expect(outline.feather).toEqual([]);
  });
});

describe('the sections of a sheet', () => {
  it('are cast and last cut in the plane of the tape, true in size, seen from behind', () => {
    for (const side of ['left', 'right'] as const) {
      const { sections } = contentOf(eggOutcome(side, 1.05));
      expect(sections.map((s) => s.letter)).toEqual(['A']);
      expectSize(sections[0].cast, 100, 80);
      expectSize(sections[0].last, 105, 84);
      expect(sections[0].inside).toBe(side === 'right' ? 'left' : 'right');
      expect(sections[0].castGirth?.value).toBe(283);
    }
  });

  it('are empty where there is no tape', () => {
    const { sections } = contentOf(handMadeOutcome());
    expect(sections).toHaveLength(4);
    for (const s of sections) expect([s.cast, s.last, s.tape]).toEqual([[], [], null]);
  });
});

describe('the map of a sheet', () => {
  it.each([['right', 'plusY', 'minusY'], ['left', 'minusY', 'plusY']] as const)('of a %s foot shows %s on the inside and %s on the outside, by number', (side, inside, outside) => {
    const outcome = eggOutcome(side);
    const { map, marks } = contentOf(outcome);
    const ids = (view: string) => map.find((v) => v.view === view)?.marks.map((m) => marks[m.number - 1].id);
    expect(ids('inner')).toContain(inside);
    expect(ids('inner')).not.toContain(outside);
    expect(ids('outer')).toContain(outside);
    expect(ids('outer')).not.toContain(inside);
    expect(ids('sole')).toContain('below');
    expect(ids('top')).not.toContain('below');
  });

  it('shows no change where there is none', () => {
    for (const view of contentOf(eggOutcome('left')).map) {
      expect(view.changes.flatMap((c) => c.areas)).toEqual([]);
      expect(view.peaks).toEqual([]);
    }
  });

  it('is the same in German', () => {
    const drawn = ({ outlines, sections, map }: SheetContent) => ({ outlines, sections: sections.map((s) => ({ ...s, label: '' })), map });
    expect(drawn(contentOf(eggOutcome('left'), {}, { language: 'de' }))).toEqual(drawn(contentOf(eggOutcome('left'))));
  });
});

describe('sheetContent', () => {
  it('puts cast, last and the other foot side by side, absent ones with their reason', () => {
    const outcome = handMadeOutcome();
    const other = { side: 'right' as const, measurements: [{ id: 'foot-length', label: 'foot length', on: 'cast' as const, value: 103.5, unit: 'mm' as const, uncertainty: 0.3, onFilled: 0 }] };
    const { measures, other: beside } = contentOf(outcome, { other });
    expect(beside).toBe('right');
    expect(measures).toHaveLength(16);
    expect(measures.find((m) => m.id === 'ankle-girth')).toMatchObject({ cast: null, last: null, change: null, letter: 'F', remark: 'The cast ends 12 mm below the place of this tape.' });
    expect(measures.find((m) => m.id === 'foot-length')).toMatchObject({ cast: { value: 100 }, last: { value: 100 }, change: 0, other: { value: 103.5 }, difference: -3.5 });
    expect(contentOf(outcome, { other: { ...other, side: 'left' } }).other).toBe('same');
  });

  it('says how much of a measure lies on surface that repair filled', () => {
    expect(contentOf(eggOutcome('left')).measures[0].remark).toBe('13 % of it on surface that repair filled.');
  });

  it('names rules, verdict and the record, and leaves out what the order leaves out', () => {
    const content = contentOf(handMadeOutcome());
    expect(content.remarks).toBeNull();
    expect(content.cautions.join(' ')).toMatch(/no medical advice.*Diabetes.*10 \/ 5.*GDPR/s);
    expect(content.approval).toBeNull();
    expect(content.particulars).toContainEqual({ label: 'Rules', text: 'house rules, version 1' });
    expect(content.verdict).toBe('usable-with-care');
    expect(content.record).toBe(`cast-to-last:order/1042/left/${content.fingerprint}`);
    expect(contentOf(handMadeOutcome(), { recordUrl: 'https://example.test/4' }).record).toBe('https://example.test/4');
  });

  it('has one fingerprint for one cast and last, whoever prints it, and another where anything that was made differs', () => {
    const outcome = handMadeOutcome();
    const { fingerprint } = contentOf(outcome);
    expect(fingerprint).toMatch(/^[0-9a-f]{16}$/);
    expect(contentOf(outcome, { orderNumber: '7', remarks: 'x' }, { language: 'de' }).fingerprint).toBe(fingerprint);
    expect(contentOf({ ...outcome, last: { ...outcome.last, volume: outcome.last.volume + 1 } }).fingerprint).not.toBe(fingerprint);
    expect(contentOf({ ...outcome, rulesSha256: 'c'.repeat(64) }).fingerprint).not.toBe(fingerprint);
  });

  it('says in German what the stages said in English', () => {
    const outcome = handMadeOutcome();
    const [mark] = outcome.inspected.marks;
    const content = contentOf(
      { ...outcome, inspected: { ...outcome.inspected, marks: [{ ...mark, why: '1.3 mm is within the 4 mm that the rules smooth.' }] } }, {}, { language: 'de' },
    );
    expect(content.marks[0].why).toBe('1,3 mm liegen innerhalb der 4 mm, die die Regeln glätten.');
    expect(content.measures[0].label).toBe('Fußlänge');
    expect(content.readings[0]).toMatchObject({ label: 'top edge', measured: '71,2 ± 0,5 mm' });
  });

  it('reads the same from a report that was written', () => {
    const outcome = eggOutcome('left', 1.02);
    const written = JSON.parse(JSON.stringify(buildReport(outcome, { ...run, stages: [] })));
    const again = sheetContent(parseSheetReport(written, 'The report'), shapesOfOutcome(outcome), header, DEFAULT_RULES.sheet);
    expect(again).toEqual(contentOf(outcome));
    expect(() => parseSheetReport({ ...written, marks: 3 }, 'The report')).toThrow(/marks/);
  });

  it('becomes a sheet of which every letter can be selected, and the same as JSON', async () => {
    const outcome = eggOutcome('left');
    const { pdf, json } = await drawOutcomeSheet(outcome, { ...header, remarks: 'Fit the left first.', customerNumber: 'K-77' }, run);
    const text = pdfPages(pdf).map((p) => p.text).join('\n');
    for (const words of ['Order 1042', 'LEFT', 'Fit the left first.', 'K-77', 'ball girth', '283.0', 'Inside']) expect(text).toContain(words);
    expect(text).not.toContain('\uFFFD');
    expect(pdf.length).toBeLessThan(1_000_000);
    const said = JSON.parse(new TextDecoder().decode(json));
    expect(said).toMatchObject({ schema: 1, orderNumber: '1042', measures: [{ id: 'ball-girth', cast: { value: 283 } }], drawn: { header: { customerNumber: 'K-77' } } });
    expect(said.drawings.map[0].view).toBe('top');
  });
});

describe('the English labels of the sheet', () => {
  it('are those of the report', () => {
    const { castCheck } = buildReport(handMadeOutcome(), { ...run, stages: [] });
    for (const { id } of castCheck.readings) expect(Object.keys({ ...READING_LABELS, 'low-top': '' })).toContain(id);
    expect(wordsOf('en').measureLabels).toEqual(MEASURE_LABELS);
    expect(wordsOf('en').sizeConvention).toBe(SIZE_CONVENTION);
  });
});
