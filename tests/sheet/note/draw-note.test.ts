import { describe, expect, it } from 'vitest';
import { drawNote } from '@cast-to-last/sheet/note/draw-note';
import type { NoteContent, NoteFinding, NotePicture } from '@cast-to-last/sheet/note/note-content';
import { pdfPages } from '../../support/pdf-text.js';

/** The end of a picture's outline, filled by the even-odd rule; nothing else on the page is. */
const FILLED = /\bf\*/g;

const line = (...points: number[]) => ({ points: new Float64Array(points), closed: false });

const picture = (width: number, height: number, changes: Partial<NotePicture> = {}): NotePicture => ({
  title: 'seen from the outer side', outline: [{ ...line(0, 0, width, 0, width, height, 0, height), closed: true }], contours: [], patches: [], measured: [], wanted: [],
  places: [], ...changes,
});

const finding = (i: number, changes: Partial<NoteFinding> = {}): NoteFinding => ({
  title: `Title number ${i}`, next: `Advice number ${i}, in a sentence that says what to do.`, measured: `measured ${i}°`, wanted: `wanted ${i}°`, picture: picture(260, 160), ...changes,
});

function content(changes: Partial<NoteContent> = {}): NoteContent {
  return {
    paper: 'a4', orderNumber: '2041', side: 'left', date: '2026-03-17', title: 'Please cast your left foot once more', opening: ['Dear customer,', 'The opening.'],
    findings: [finding(1), finding(2)], alsoTitle: 'We also saw:', cautionsTitle: 'Take care', cautions: ['First caution.', 'Second caution.', 'Third caution.'],
    closing: ['We do not treat feet.'], sources: 'The sources.', ...changes,
  };
}

const onePage = async (changes: Partial<NoteContent>) => {
  const pages = pdfPages(await drawNote(content(changes)));
  expect(pages).toHaveLength(1);
  return pages[0];
};

describe('drawNote', () => {
  it('says everything on one page in selectable text', async () => {
    const { text } = await onePage({});
    for (const words of [
      'Please cast your left foot once more', 'Order 2041', 'LEFT', '2026-03-17', 'Dear customer,', 'The opening.', '1. Title number 1', 'measured 1°', 'wanted 1°',
      'Next time: Advice number 1', '2. Title number 2', 'Take care', 'First caution.', 'Third caution.', 'We do not treat feet.', 'The sources.', 'seen from the outer side',
    ]) expect(text).toContain(words);
    expect(text).not.toContain('We also saw');
    expect(text).not.toContain('\uFFFD');
  });

  it.each([['a4', 595.28, 841.89], ['letter', 612, 792]] as const)('stays inside the margins of %s paper, with as many findings and as long names as there may be', async (paper, width, height) => {
    for (const count of [0, 1, 2, 3, 4, 5, 10, 22]) {
      const findings = Array.from({ length: count }, (_, i) => finding(i + 1, { title: `Title number ${i + 1} ${'is rather long'.repeat(2)}`, next: `Advice ${i + 1} ${'with many words '.repeat(14)}.` }));
      const page = await onePage({ paper, findings, orderNumber: `20${'W'.repeat(78)}` });
      expect([page.width, page.height]).toEqual([width, height]);
      for (const { text, x, y } of page.pieces.filter((p) => p.text.trim() !== '')) {
        expect(x, text).toBeGreaterThanOrEqual(39.9);
        expect(x, text).toBeLessThan(width - 40);
        expect(y, text).toBeGreaterThan(39);
        expect(y, text).toBeLessThan(height - 40);
      }
      for (let i = 1; i <= count; i++) expect(page.text.match(new RegExp(`[Tt]itle number ${i} `, 'g')), `${count} findings, number ${i}`).toHaveLength(1);
    }
  });

  it('shows the first four at most with their pictures and lists the others', async () => {
    const { text, operators } = await onePage({ findings: Array.from({ length: 7 }, (_, i) => finding(i + 1)) });
    expect(text).toContain('4. Title number 4');
    expect(text).not.toContain('5. Title');
    expect(text.split('We also saw')[1]).toMatch(/itle number 5.*itle number 6.*itle number 7/s);
    expect(operators.match(FILLED)).toHaveLength(4);
  });

  it('draws measured lines in full and wanted ones dashed, with a swatch of each beside its words', async () => {
    const marked = picture(200, 100, { measured: [line(20, 10, 180, 90)], wanted: [line(20, 90, 180, 10)] });
    const plain = await onePage({ findings: [finding(1)] });
    const { operators } = await onePage({ findings: [finding(1, { picture: marked })] });
    const dashes = (of: string): number => of.match(/\[3 2\] 0 d/g)?.length ?? 0;
    expect(dashes(plain.operators)).toBe(0);
    expect(dashes(operators)).toBe(2);
  });

  it('draws a picture to one scale across and up, inside its box and left of its words', async () => {
    const page = await onePage({ findings: [finding(1, { picture: picture(200, 100, { places: [[100, 50]] }) })] });
    const corners = /([\d.]+) ([\d.]+) m\n([\d.]+) ([\d.]+) l\n([\d.]+) ([\d.]+) l\n([\d.]+) ([\d.]+) l\nh\n/.exec(page.operators)?.slice(1).map(Number) ?? [];
    const [across, up] = [corners[2] - corners[0], Math.abs(corners[5] - corners[3])];
    expect(across / up).toBeCloseTo(2, 4);
    expect(across).toBeGreaterThan(150);
    const title = page.pieces.find((p) => p.text.includes('Title number 1'));
    expect(corners[2]).toBeLessThan(title?.x ?? 0);
    expect(corners[0]).toBeGreaterThan(39);
  });

  it('is the same bytes for the same content', async () => {
    const [a, b] = [await drawNote(content()), await drawNote(content())];
    expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
  });

  it('sets any letters, and takes control characters for spaces', async () => {
    const { text } = await onePage({ orderNumber: 'Ż-12\u0007β', date: null });
    expect(text).toContain('Order Ż-12 β');
  });

  it('says so, instead of a second page, where not even the smallest plan fits', async () => {
    await expect(async () => drawNote(content({ closing: ['words without end '.repeat(2000)] }))).rejects.toThrow(RangeError);
  });
});
