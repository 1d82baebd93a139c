import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ADVICE } from '@cast-to-last/pipeline/recast-note/advice';
import { plainFigures, recastNote } from '@cast-to-last/pipeline/recast-note/recast-note';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { drawNoteKey } from '@cast-to-last/pipeline/pipeline';
import { drawRecastNote } from '@cast-to-last/pipeline/stages/draw-note';
import { castCheck, weighed } from '../../support/hand-made-check.js';
import type { Weighed } from '../../support/hand-made-check.js';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';
import { footShape } from '../../support/foot-shape.js';
import { pdfPages } from '../../support/pdf-text.js';

const header = { orderNumber: '2041', date: '2026-03-17' };
const SEED = 20260401;

function outcomeWith(all: readonly Weighed[], rules = parseRules({})) {
  const outcome = handMadeOutcome();
  const mesh = footShape({ rings: 40, around: 32 });
  const filled = new Uint8Array(mesh.positions.length / 3);
  return { ...outcome, rules, check: castCheck(...all), aligned: { ...outcome.aligned, filled }, measured: { ...outcome.measured, mesh } };
}
const contentOf = (...all: Weighed[]) => recastNote(outcomeWith(all), header);

describe('the words of the note', () => {
  it('depend on whether more or less was wanted, and figures on their own sign', () => {
    const [forward] = contentOf(weighed('forward-lean', 'recast', 17.2, 3, 9)).findings;
    expect(forward).toMatchObject({ title: 'The lower leg leaned too far forward', measured: 'it leaned forward by 17°', wanted: 'wanted: 3° forward' });
    const [back] = contentOf(weighed('forward-lean', 'recast', 2, 12, 9)).findings;
    expect(back).toMatchObject({ title: 'The lower leg did not lean forward enough', measured: 'it leaned forward by 2°', wanted: 'wanted: 12° forward' });
    const [out] = contentOf(weighed('rear-view', 'recast', -9, 0, 7)).findings;
    expect(out).toMatchObject({ title: 'The leg leaned outward', measured: 'it leaned outward by 9°', wanted: 'wanted: upright' });
    const [agreed] = contentOf(weighed('rear-view', 'recast', 6, -3, 7)).findings;
    expect(agreed).toMatchObject({ title: 'The knee fell inward', wanted: 'wanted: 3° outward' });
    const [overlap] = contentOf(weighed('closing-instep', 'recast', -7, 0, 6, 'mm')).findings;
    expect(overlap).toMatchObject({ title: 'The edges of the cut overlap', measured: 'the edges overlap by 7\u00a0mm' });
  });

  it('name the height of the rules above the ankle bone, and the limit of a ratio', () => {
    const rules = parseRules({ check: { aboveAnkleMm: 40 } });
    const [short] = recastNote(outcomeWith([weighed('stops-short', 'recast', 80, 112, 112, 'mm')], rules), header).findings;
    expect(short.next).toContain('40\u00a0mm above the ankle bone');
    const [box] = contentOf(weighed('toe-box', 'recast', 0.61, null, 0.64, '')).findings;
    expect(box).toMatchObject({ measured: 'toes 61\u00a0% as broad as the ball', wanted: 'wanted: at least 64\u00a0%' });
  });

  it('say left or right, thank, ask, caution and promise no treatment', async () => {
    const text = pdfPages(await drawRecastNote(outcomeWith([weighed('warped', 'recast', null, null, null)]), header))[0].text.replaceAll('\u00a0', ' ');
    for (const words of [
      'Please cast your left foot once more', 'Thank you', 'water under 24 °C', 'few layers at a time', '49 °C', '2 to 3 minutes', 'broken skin', 'numb', 'poor circulation', 'metal strip',
      'blade away from the skin', 'oven', 'dust', 'we do not treat feet', 'Halanski 2007', '10.1186/1749-799X-3-10',
    ]) expect(text, words).toContain(words);
  });

  it('hold nothing of the customer or the scan but the order\'s number and the side', () => {
    const outcome = outcomeWith([weighed('warped', 'recast', null, null, null)]);
    const content = JSON.stringify(recastNote({ ...outcome, casting: { tape: { left: { 'ball-girth': 233.25 } }, drying: { how: 'at home' } } }, header));
    for (const secret of ['233.25', 'at home', outcome.inputSha256]) expect(content).not.toContain(secret);
  });
});

describe('plainFigures', () => {
  it('are whole where they are large, with a decimal where they are small, without signs', () => {
    expect(plainFigures(17.23, 12, 'deg')).toEqual(['17°', '12°']);
    expect(plainFigures(-6.24, 0, 'deg')).toEqual(['6.2°', '0°']);
    expect(plainFigures(8.04, null, 'mm')).toEqual(['8\u00a0mm', '']);
    expect(plainFigures(0.612, 0.72, '')).toEqual(['61\u00a0%', '72\u00a0%']);
  });

  it('differ where the figures do', () => {
    expect(plainFigures(0.638, 0.64, '')).toEqual(['63.8\u00a0%', '64\u00a0%']);
    expect(plainFigures(17.4, 17.3, 'deg')).toEqual(['17.4°', '17.3°']);
    expect(plainFigures(17.3, 17.3, 'deg')).toEqual(['17°', '17°']);
  });
});

describe(`any findings (seed ${SEED})`, () => {
  const codes = [...Object.keys(ADVICE).filter((code) => code !== 'pair'), 'pair-length', 'pair-lean', 'unheard-of'];
  const unitOf = (code: string): string => (/lean|view|bend|heel-on|twist/.test(code) ? 'deg' : code === 'toe-box' ? '' : code === 'surface-made-up' ? '%' : 'mm');

  it('make a note of one page that names each topic once', async () => {
    const anyFinding = fc.record({
      code: fc.constantFrom(...codes), severity: fc.constantFrom('care' as const, 'recast' as const), value: fc.option(fc.double({ min: -60, max: 60, noNaN: true })),
      wanted: fc.option(fc.integer({ min: -5, max: 20 })), limit: fc.option(fc.integer({ min: 0, max: 12 })), at: fc.option(fc.constant([120, 10, 40] as const)),
    });
    await fc.assert(
      fc.asyncProperty(fc.uniqueArray(anyFinding, { selector: (f) => f.code, maxLength: codes.length }), fc.constantFrom('a4', 'letter'), fc.string({ minLength: 1, maxLength: 80 }), async (all, paper, orderNumber) => {
        const outcome = outcomeWith(all.map((f) => weighed(f.code, f.severity, f.value, f.wanted, f.limit, unitOf(f.code), f.at)), parseRules({ sheet: { paper } }));
        const pages = pdfPages(await drawRecastNote(outcome, { orderNumber, date: null }));
        expect(pages).toHaveLength(1);
        for (const { title } of recastNote(outcome, header).findings) expect(pages[0].text.split(title.slice(1)).length, title).toBe(2);
      }),
      { seed: SEED, numRuns: 25 },
    );
  });

  it('make a note of one page where they all come at once', async () => {
    for (const paper of ['a4', 'letter'] as const) {
      const all = codes.map((code) => weighed(code, 'recast', 30, 3, 4, unitOf(code), [120, 10, 40]));
      const outcome = outcomeWith(all, parseRules({ sheet: { paper } }));
      expect(pdfPages(await drawRecastNote(outcome, { orderNumber: 'W'.repeat(80), date: '2026-03-17' }))).toHaveLength(1);
    }
  });
});

describe('drawNoteKey', () => {
  it('changes with the results, the paper, the number and the date, and with nothing else', () => {
    const rules = parseRules({});
    const key = drawNoteKey(['a'], rules, header);
    expect(drawNoteKey(['a'], parseRules({ name: 'other' }), { ...header })).toBe(key);
    for (const other of [
      drawNoteKey(['b'], rules, header), drawNoteKey(['a'], parseRules({ sheet: { paper: 'letter' } }), header), drawNoteKey(['a'], rules, { ...header, orderNumber: '1' }),
      drawNoteKey(['a'], rules, { ...header, date: null }),
    ]) expect(other).not.toBe(key);
  });
});
