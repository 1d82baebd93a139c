import { describe, expect, it } from 'vitest';
import type { SheetContent, SheetLine } from '@cast-to-last/sheet/measurement/content';
import { drawSheet } from '@cast-to-last/sheet/measurement/draw-sheet';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';
import { emptySheet, mark, outline, overfullSheet, reading, rectangle, section, sheetContentByHand } from '../../support/hand-made-sheet.js';
import { pdfPages } from '../../support/pdf-text.js';

const pagesOf = async (content: SheetContent) => pdfPages(await drawSheet(content));
const allText = async (content: SheetContent): Promise<string> => (await pagesOf(content)).map((p) => p.text).join('\n');
const PAPERS = { a4: [595.28, 841.89], letter: [612, 792] } as const;

describe('drawSheet', () => {
  it('says everything in selectable text, in under 100 kB', async () => {
    const pdf = await drawSheet(sheetContentByHand());
    expect(pdf.length).toBeLessThan(100_000);
    const text = pdfPages(pdf).map((p) => p.text).join('\n');
    for (const words of [
      'Order 1042', 'LEFT', 'K-77', '2026-03-17', 'Record 0123456789abcdef', 'order-1042-left.stl', 'foot length', '262.4', '10.33', '0.3', '274.4', 'absent', 'The cast ends 12 mm too low.', '13.2°',
      'Right cast', '264.1', '−1.7', 'Mondopoint', '260', '41.5', 'ISO/TS 19407', 'The cast is usable with care.', 'A finding.', 'A warning.', 'length with toe allowance', '−0.01',
      'Top cut flat 80 mm (3.15 in) above the rest plane.', 'forward lean 1', '7.9 ± 0.6°', 'in order', 'toe pitch: There is no footbed in the order.', 'TRUE SIZE', 'Side profile, seen from the outside',
      'Sole, seen from below', 'This bar measures 100 mm (3.94 in).', 'Marks (3)', '100, −32, 12', '−1.3', '14 × 10', 'smoothed', 'ask the maker', 'Reason number 3.', 'Approved by', 'Signature',
      'half of the weight', 'added, more than 0.5 mm', '+1.4', 'The second caution.', 'Page 1 of 6',
    ]) expect(text.replaceAll(/\s+/g, ' '), words).toContain(words);
    expect(text).not.toContain('\uFFFD');
  });

  it('shows who approved it and when in place of the lines to sign on', async () => {
    const text = await allText(sheetContentByHand({ approval: { by: 'M. Keller', on: '2026-03-20' } }));
    expect(text).toContain('Approved by M. Keller, 2026-03-20');
    expect(text).not.toContain('Signature');
  });

  it('speaks German without a word of English', async () => {
    const text = await allText(sheetContentByHand({ language: 'de', measures: [], particulars: [], readings: [], reasons: [], sections: [], casting: [], changes: [], warnings: [], findings: [], cautions: [], remarks: null, marks: [{ ...mark(1), why: '' }] }));
    for (const words of ['Maßblatt', 'Auftrag 1042', 'LINKS', 'Der Abguss ist mit Vorsicht brauchbar.', 'Pariser Stich (EU)', '41,5', 'Freigegeben von', 'Seitenansicht von außen', 'WAHRE GRÖSSE', 'Delle', '−1,3', 'Seite 1 von']) {
      expect(text).toContain(words);
    }
    for (const words of [' the ', ' of ', ' and ', 'cast ', 'Page']) expect(text, words).not.toContain(words);
  });

  it('leaves the inches out where they are not wanted', async () => {
    const text = await allText(sheetContentByHand({ inches: false }));
    expect(text).not.toMatch(/\d\.\d\d in\b/);
    expect(text).not.toContain('10.33');
  });

  it('prints an absent measure as absent, never as 0', async () => {
    const [first] = await pagesOf(sheetContentByHand());
    const row = first.pieces.findIndex((p) => p.text.trim().startsWith('ankle girth'));
    const end = first.pieces.findIndex((p) => p.text.trim() === 'ball angle');
    const texts = first.pieces.slice(row + 1, end).map((p) => p.text.trim());
    expect(texts.filter((t) => t === 'absent')).toHaveLength(2);
    expect(texts.some((t) => /^[\d.]+$/.test(t))).toBe(false);
  });

  it('never claims that a figure has no uncertainty', async () => {
    const [exact] = sheetContentByHand().measures;
    const measures = [{ ...exact, cast: { value: 100, uncertainty: 0.01 }, last: { value: 100, uncertainty: 0 } }];
    const [first] = await pagesOf(sheetContentByHand({ measures }));
    expect(first.pieces.filter((p) => p.text.trim() === '<0.1')).toHaveLength(2);
  });

  it('is the same bytes for the same content', async () => {
    const [a, b] = [await drawSheet(sheetContentByHand()), await drawSheet(sheetContentByHand())];
    expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
  });

  const CASES = { usual: sheetContentByHand, overfull: overfullSheet, empty: emptySheet };
  const combinations = (['a4', 'letter'] as const).flatMap((paper) => (['en', 'de'] as const).flatMap((language) => (['usual', 'overfull', 'empty'] as const).map((name) => [paper, language, name] as const)));
  it.each(combinations)('stays within %s paper in %s where it is %s', async (paper, language, name) => {
    const pdf = await drawSheet(CASES[name]({ paper, language }));
    expect(pdf.length).toBeLessThan(1_000_000);
    const upright: readonly number[] = PAPERS[paper];
    for (const page of pdfPages(pdf)) {
      expect([[...upright], [...upright].reverse()]).toContainEqual([page.width, page.height]);
      for (const piece of page.pieces.filter((p) => p.text.trim() !== '')) {
        expect(piece.x, piece.text).toBeGreaterThanOrEqual(13);
        expect(piece.x, piece.text).toBeLessThan(page.width - 18);
        expect(piece.y, piece.text).toBeGreaterThan(18);
        expect(piece.y, piece.text).toBeLessThan(page.height - 13);
      }
    }
  });

  it.each((['a4', 'letter'] as const).flatMap((paper) => (['en', 'de'] as const).map((language) => [paper, language] as const)))('has the job on one page, to the signature, on %s paper in %s with every measure and every change of a last', async (paper, language) => {
    const [exact] = sheetContentByHand().measures;
    const measures = Array.from({ length: 16 }, (_, i) => ({ ...exact, label: `measure ${i + 1}`, remark: '' }));
    const changes = Array.from({ length: 16 }, (_, i) => ({ id: `change-${i}`, label: `change ${i + 1}`, unit: 'mm' as const, before: 250, asked: 252, got: 252 }));
    const findings = Array.from({ length: 4 }, () => ({ severity: 'care' as const, text: '212 mm² of the toes are missing in the scan (200 mm² is the limit); their form there was made up. Scan them again if the cast is whole there.' }));
    const content = sheetContentByHand({ paper, language, measures, changes, findings, flatTopMm: null, remarks: 'winter boot, felt insole 4 mm', particulars: sheetContentByHand().particulars.slice(0, 4) });
    const [first] = await pagesOf(content);
    expect(first.text).toContain(wordsOf(language).signature);
    expect(first.text).toContain('measure 16');
    expect(first.text).toContain('change 16');
  });

  it('carries long lists over pages, each entry once, each page beginning with the head of its table', async () => {
    const pages = await pagesOf(overfullSheet());
    const withMarks = pages.filter((p) => p.text.includes('Reason number'));
    expect(withMarks.length).toBeGreaterThan(0);
    for (const page of withMarks) expect(page.text).toContain('Place x, y, z (mm)');
    for (let i = 1; i <= 40; i++) {
      expect(withMarks.filter((p) => p.text.includes(`Reason number ${i}.`)), `mark ${i}`).toHaveLength(1);
      expect(pages.filter((p) => p.text.includes(`forward lean ${i} `)), `reading ${i}`).toHaveLength(1);
    }
    // The first page names the worst and says how many more there are; the lists name all of them.
    expect(pages.slice(0, 2).map((p) => p.text).join(' ')).toMatch(/and \d+ more, on the last pages/);
    const lists = pages.slice(2).map((p) => p.text).join('\n');
    for (let i = 0; i < 30; i++) expect(lists.split(`Finding number ${i}:`), `finding ${i}`).toHaveLength(2);
  });

  it('says that there are no marks, no changes and no findings', async () => {
    const text = await allText(emptySheet());
    for (const words of ['No marks were found on this cast.', 'No allowance was asked for', 'Nothing beyond a limit.', 'none']) expect(text).toContain(words);
  });

  it('sets accents, Greek and Cyrillic, and takes control characters for spaces', async () => {
    const text = await allText(sheetContentByHand({ remarks: 'Ćwikła Grünwälder Ωμέγα Жук\nnext\u0007line' }));
    expect(text).toContain('Ćwikła Grünwälder Ωμέγα Жук next line');
    expect(text).not.toContain('\uFFFD');
  });

  it('wraps a long reading inside its column, and the next row stands below it', async () => {
    const label = 'the height of the inner edge of the front sole over the outer edge where both shall lie on the plate';
    const pages = await pagesOf(sheetContentByHand({ readings: [{ ...reading(1), label }, reading(2)] }));
    const page = pages.find((p) => p.text.includes('forward lean 2'));
    const lines = page?.pieces.filter((p) => p.text.trim() !== '' && label.includes(p.text.trim())) ?? [];
    expect(lines.length).toBeGreaterThan(1);
    expect(new Set(lines.map((p) => p.x)).size).toBe(1);
    expect(page?.pieces.find((p) => p.text.includes('forward lean 2'))?.y).toBeLessThan(Math.min(...lines.map((p) => p.y)) - 8);
  });

  it('draws the feather line of the sole as dashes and dots, with its word in the legend, and neither where there is none', async () => {
    const [profile, sole] = sheetContentByHand().outlines;
    for (const [language, word] of [['en', 'feather line'], ['de', 'Leistenkante']] as const) {
      const told = (feather: SheetLine[]) => pagesOf(sheetContentByHand({ language, changes: [], outlines: [profile, { ...sole, feather }] }));
      const withLine = await told(rectangle(240, 80, 10, 10));
      const dashes = (pages: Awaited<ReturnType<typeof told>>): number => pages.flatMap((p) => p.operators.match(/\[7 2\.2 1\.2 2\.2\] 0 d/g) ?? []).length;
      const pages = withLine.filter((p) => p.text.includes(word));
      expect(pages.length).toBeGreaterThan(0);
      expect(dashes(withLine)).toBe(pages.length + 1);
      const without = await told([]);
      expect(without.filter((p) => p.text.includes(word))).toEqual([]);
      expect(dashes(without)).toBe(0);
    }
  });

  it('draws nothing where a drawing holds nothing', async () => {
    const nothing = { ...outline('sole', 0, 0), cast: [], last: [], tapes: [] };
    const open = { ...section('A', 'ball girth', 1, 1), cast: [], last: [], tape: null, castGirth: null, lastGirth: null };
    const text = await allText(sheetContentByHand({ outlines: [nothing], sections: [open], map: [] }));
    expect(text).not.toContain('Sole, seen from below');
    expect(text).toContain('No section: this girth is absent.');
  });
});

describe('the catalogues', () => {
  it('say the same things: every text, but for names and signs, is another in German', () => {
    const texts = (of: object, path = ''): (readonly [string, string])[] =>
      Object.entries(of).flatMap(([key, value]) => (typeof value === 'string' ? [[`${path}${key}`, value] as const] : typeof value === 'object' ? texts(value, `${path}${key}.`) : []));
    const german = new Map(texts(wordsOf('de')));
    const same = texts(wordsOf('en')).filter(([key, text]) => german.get(key) === text).map(([key]) => key);
    expect(same.sort()).toEqual(['comparison.fingerprint', 'inch', 'sizeSystems.mondopoint', 'states.']);
    expect([...german.values()].filter((text) => text.trim() === '')).toHaveLength(1);
  });
});
