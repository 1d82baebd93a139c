import { describe, expect, it } from 'vitest';
import type { ComparisonContent } from '@cast-to-last/sheet/comparison/comparison-content';
import { drawComparison } from '@cast-to-last/sheet/comparison/draw-comparison';
import { comparisonByHand, overfullComparison } from '../../support/hand-made-comparison.js';
import { pdfPages } from '../../support/pdf-text.js';

const PAPERS = { a4: [595.28, 841.89], letter: [612, 792] } as const;
const pagesOf = async (content: ComparisonContent) => pdfPages(await drawComparison(content));
const spaced = (text: string): string => text.replaceAll(/\s+/g, ' ');

describe('drawComparison', () => {
  it('says in selectable text what was compared, how it lies, every figure and what is found, on two pages', async () => {
    const pdf = await drawComparison(comparisonByHand());
    expect(pdf.length).toBeLessThan(100_000);
    const pages = pdfPages(pdf);
    expect(pages).toHaveLength(2);
    const [first, second] = pages.map((p) => spaced(p.text));
    for (const words of [
      'Comparison', 'Left foot, mirrored, and right foot', 'a.stl', 'b.stl', '92 % of the foot, within 0.54 mm RMS', 'laid mirrored', 'ball girth: A finding.', '262.4', '10.33', '+11.2 ± 0.5', '8.0', 'beyond',
      '−2.0 ± <0.1', '6.6°', '+4.7 ± 0.5° (Wanted +3.0)', '0.69', '−0.01 ± 0.01', 'house rules, version 1', 'no medical advice', 'Page 1 of 2',
    ]) expect(first, words).toContain(words);
    for (const words of [
      'Map of the deviation', '1 : 2', 'Left (mirrored) against right, along the surface normal', 'outside, by more than 0.5 mm', '+1.4', 'From above', 'Outside', 'Nothing is told above 119 mm', 'toes', '−0.62', '2.91',
      'Page 2 of 2',
    ]) expect(second, words).toContain(words);
  });

  it('says that nothing differs and that no place lies off', async () => {
    const content = comparisonByHand({ findings: [], mirrored: false, map: comparisonByHand().map.map((v) => ({ ...v, peaks: [], changes: v.changes.map((c) => ({ ...c, areas: [] })) })) });
    const text = (await pagesOf(content)).map((p) => spaced(p.text)).join(' ');
    for (const words of ['Nothing.', 'No place lies more than 0.5 mm off the other.', 'The first was laid on the second']) expect(text).toContain(words);
  });

  it('speaks German without a word of English', async () => {
    const content = comparisonByHand({ language: 'de', subject: 'Linker Fuß', names: ['links (gespiegelt)', 'rechts'], bodies: [[], []], figures: [], findings: [], particulars: [], parts: [] });
    const text = (await pagesOf(content)).map((p) => spaced(p.text)).join(' ');
    for (const words of ['Vergleich', 'gespiegelt auf den zweiten gelegt', '0,54 mm', 'Nichts.', 'Karte der Abweichung', 'Links (gespiegelt) gegen rechts', 'außerhalb, um mehr als 0,5 mm', 'Seite 1 von 2']) expect(text).toContain(words);
    for (const words of [' the ', ' of ', ' and ', 'cast', 'Page']) expect(text, words).not.toContain(words);
  });

  it('leaves the inches out where they are not wanted', async () => {
    expect((await pagesOf(comparisonByHand({ inches: false }))).map((p) => p.text).join(' ')).not.toContain('10.33');
  });

  it('is the same bytes for the same content', async () => {
    const [a, b] = [await drawComparison(comparisonByHand()), await drawComparison(comparisonByHand())];
    expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
  });

  const combinations = (['a4', 'letter'] as const).flatMap((paper) => (['en', 'de'] as const).flatMap((language) => [comparisonByHand, overfullComparison].map((content) => [paper, language, content.name, content] as const)));
  it.each(combinations)('stays within %s paper in %s, %s', async (paper, language, _, content) => {
    for (const page of await pagesOf(content({ paper, language }))) {
      expect([page.width, page.height]).toEqual([...PAPERS[paper]]);
      for (const piece of page.pieces.filter((p) => p.text.trim() !== '')) {
        expect(piece.x, piece.text).toBeGreaterThanOrEqual(30);
        expect(piece.x, piece.text).toBeLessThan(page.width - 40);
        expect(piece.y, piece.text).toBeGreaterThan(18);
        expect(piece.y, piece.text).toBeLessThan(page.height - 13);
      }
    }
  });

  it('carries long lists over pages, each entry once', async () => {
    const all = (await pagesOf(overfullComparison())).map((p) => p.text).join('\n');
    for (let i = 0; i < 20; i++) expect(all.split(`Finding number ${i}:`), `finding ${i}`).toHaveLength(2);
    for (let i = 0; i < 40; i++) expect(spaced(all).split(`figure number ${i} with`), `figure ${i}`).toHaveLength(2);
  });
});
