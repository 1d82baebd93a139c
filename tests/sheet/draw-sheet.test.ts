import { describe, expect, it } from 'vitest';
import type { SheetContent, SheetDrawing, SheetMark, SheetReading } from '@cast-to-last/sheet/content';
import { drawSheet } from '@cast-to-last/sheet/draw-sheet';
import { pdfPages } from '../support/pdf-text.js';

const rectangle = (width: number, height: number): SheetDrawing['outline'] => [
  { points: new Float64Array([0, 0, width, 0, width, height, 0, height]), closed: true },
];

const drawing = (title: string, width: number, height: number): SheetDrawing => ({
  title, outline: rectangle(width, height), contours: [], restLine: 0,
  tapes: [{ letter: 'A', label: 'ball girth', lines: [{ points: new Float64Array([width / 2, 0, width / 2, height]), closed: false }] }],
  marks: [{ id: 'm1', at: [width / 3, height / 2] }],
});

const mark = (i: number): SheetMark => ({
  id: `m${i}`, kind: 'dent', centre: [100.4, -31.6, 12], depth: -1.26, length: 14.2, width: 9.8, decision: 'smoothed', why: `Reason number ${i}.`,
});

const reading = (i: number): SheetReading => ({
  label: `forward lean ${i}`, measured: '7.9 ± 0.6°', wanted: '3.0', care: '5.0', recast: '9.0', state: 'in order',
});

function content(changes: Partial<SheetContent> = {}): SheetContent {
  return {
    paper: 'a4', orderNumber: '1042', side: 'left', date: '2026-03-17',
    particulars: [{ label: 'Scan file', text: 'order-1042-left.stl' }],
    measures: [
      { label: 'foot length', unit: 'mm', cast: { value: 262.44, uncertainty: 0.31 }, last: { value: 274.44, uncertainty: 0.3 }, remark: '' },
      { label: 'ankle girth', unit: 'mm', cast: null, last: null, remark: 'The cast ends 12 mm too low.' },
      { label: 'ball angle', unit: 'deg', cast: { value: 13.2, uncertainty: 1 }, last: null, remark: '' },
    ],
    measureNote: 'A note on the measures.',
    sizes: [{ system: 'Mondopoint', size: '260' }, { system: 'Paris point (EU)', size: '41.5' }],
    sizeConvention: 'The convention.',
    castCheck: { verdict: 'Usable with care.', findings: [{ severity: 'care', text: 'A finding.' }], readings: [reading(1)], reasons: ['toe pitch: There is no footbed in the order.'] },
    warnings: ['A warning.'],
    drawings: [drawing('Sole, from below', 262, 100), drawing('Inside (medial)', 262, 150), drawing('Outside (lateral)', 262, 150), drawing('From behind', 90, 150)],
    drawingNote: 'A note on the drawings.',
    marks: [mark(1)],
    cautions: ['The first caution.', 'The second caution.'],
    ...changes,
  };
}

const allText = (pdf: Uint8Array): string => pdfPages(pdf).map((p) => p.text).join('\n');

describe('drawSheet', () => {
  it('says everything in selectable text, in under 100 kB and two pages', async () => {
    const pdf = await drawSheet(content());
    const pages = pdfPages(pdf);
    expect(pages).toHaveLength(2);
    expect(pdf.length).toBeLessThan(100_000);
    const text = allText(pdf);
    for (const words of [
      'Order 1042', 'LEFT', '2026-03-17', 'order-1042-left.stl', 'foot length', '262.4', '0.3', '274.4', 'absent', 'The cast ends 12 mm too low.', '°',
      'Mondopoint', '260', '41.5', 'The convention.', 'Usable with care.', 'care: A finding.', 'note: A warning.', 'forward lean 1 7.9 ± 0.6° 3.0 5.0 9.0 in order', 'toe pitch: There is no footbed in the order.', 'Sole, from below', 'From behind',
      'A ball girth', '50 mm, scale 1 : 2.5', 'Marks (1)', '100, −32, 12', '−1.3', '14 × 10', 'smoothed', 'Reason number 1.', 'The second caution.',
      'Page 1 of 2', 'Page 2 of 2',
    ]) expect(text).toContain(words);
  });

  it('draws to the scale that it names', async () => {
    const [, page] = pdfPages(await drawSheet(content({ drawings: [drawing('Sole, from below', 200, 80)] })));
    const ratio = Number(/scale 1 : ([\d.]+)/.exec(page.text)?.[1]);
    const mm = (points: number): number => (points / 72) * 25.4;
    const corners = /([\d.]+) ([\d.]+) m\n([\d.]+) ([\d.]+) l\n([\d.]+) ([\d.]+) l\n([\d.]+) ([\d.]+) l\nh/.exec(page.operators)?.slice(1).map(Number) ?? [];
    expect(mm(corners[2] - corners[0])).toBeCloseTo(200 / ratio, 2);
    expect(mm(corners[3] - corners[5])).toBeCloseTo(80 / ratio, 2);
    const bar = /l\n40 ([\d.]+) m\n([\d.]+) \1 l\n[\d.]+ [\d.]+ m/.exec(page.operators);
    expect(mm(Number(bar?.[2]) - 40)).toBeCloseTo(50 / ratio, 2);
  });

  it('prints an absent measure as absent, never as 0', async () => {
    const [first] = pdfPages(await drawSheet(content()));
    const row = first.pieces.findIndex((p) => p.text.trim() === 'ankle girth');
    const texts = first.pieces.slice(row, row + 7).map((p) => p.text.trim());
    expect(texts.filter((t) => t === 'absent')).toHaveLength(2);
    expect(texts.some((t) => /^[\d.]+$/.test(t))).toBe(false);
  });

  it('never claims that a figure has no uncertainty', async () => {
    const exact = { label: 'breadth', unit: 'mm' as const, cast: { value: 100, uncertainty: 0.01 }, last: { value: 100, uncertainty: 0 }, remark: '' };
    const text = allText(await drawSheet(content({ measures: [exact] })));
    expect(text).toContain('100.0 < 0.1 100.0 < 0.1');
  });

  it('is the same bytes for the same content', async () => {
    const [a, b] = [await drawSheet(content()), await drawSheet(content())];
    expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
  });

  it.each([['a4', 595.28, 841.89], ['letter', 612, 792]] as const)('fits %s paper', async (paper, width, height) => {
    for (const page of pdfPages(await drawSheet(content({ paper, marks: Array.from({ length: 60 }, (_, i) => mark(i + 1)) })))) {
      expect([page.width, page.height]).toEqual([width, height]);
      for (const piece of page.pieces) {
        expect(piece.x).toBeGreaterThanOrEqual(36);
        expect(piece.x).toBeLessThan(width - 36);
        expect(piece.y).toBeGreaterThan(20);
        expect(piece.y).toBeLessThan(height - 36);
      }
    }
  });

  it('carries a long list of marks over pages, each beginning with the head of the table', async () => {
    const pages = pdfPages(await drawSheet(content({ marks: Array.from({ length: 120 }, (_, i) => mark(i + 1)) })));
    const withMarks = pages.filter((p) => p.text.includes('Reason number'));
    expect(withMarks.length).toBeGreaterThan(2);
    for (const page of withMarks) expect(page.text).toContain('Place x, y, z (mm)');
    for (let i = 1; i <= 120; i++) expect(withMarks.filter((p) => p.text.includes(`Reason number ${i}.`))).toHaveLength(1);
  });

  it('carries a long cast check over pages, each reading once, under a head', async () => {
    const castCheck = {
      verdict: 'Cast again.', findings: Array.from({ length: 10 }, (_, i) => ({ severity: 'recast', text: `Finding ${i}: ${'many words '.repeat(30)}` })),
      readings: Array.from({ length: 60 }, (_, i) => reading(i + 1)), reasons: [],
    };
    const pages = pdfPages(await drawSheet(content({ castCheck })));
    const withReadings = pages.filter((p) => p.text.includes('forward lean'));
    expect(withReadings.length).toBeGreaterThan(1);
    for (const page of withReadings) expect(page.text).toContain('Recast beyond');
    for (let i = 1; i <= 60; i++) expect(withReadings.filter((p) => p.text.includes(`forward lean ${i} `))).toHaveLength(1);
  });

  it('wraps a long reading inside its column, and the next row stands below it', async () => {
    const label = 'the height of the inner edge of the front sole over the outer edge where both shall lie on the plate';
    const readings = [{ ...reading(1), label, measured: 'not read', wanted: '', care: '', recast: '', state: 'not read' }, reading(2)];
    const [page] = pdfPages(await drawSheet(content({ castCheck: { verdict: 'Usable.', findings: [], readings, reasons: [] } })));
    const lines = page.pieces.filter((p) => p.text.trim() !== '' && label.includes(p.text.trim()));
    expect(lines.length).toBeGreaterThan(1);
    expect(new Set(lines.map((p) => p.x)).size).toBe(1);
    const next = page.pieces.find((p) => p.text.includes('forward lean 2'));
    expect(next?.y).toBeLessThan(Math.min(...lines.map((p) => p.y)) - 8);
  });

  it('leaves no page half empty where the check runs over: the marks follow it, the outlines come last', async () => {
    const castCheck = { verdict: 'Usable.', findings: [], readings: Array.from({ length: 40 }, (_, i) => reading(i + 1)), reasons: [] };
    const pages = pdfPages(await drawSheet(content({ castCheck })));
    expect(pages.map((p) => ['Measures', 'forward lean 40', 'Marks (1)', 'The second caution.', 'Outlines'].filter((words) => p.text.includes(words)))).toEqual([
      ['Measures'], ['forward lean 40', 'Marks (1)', 'The second caution.'], ['Outlines'],
    ]);
  });

  it('says the verdict in the head of the first page', async () => {
    const [page] = pdfPages(await drawSheet(content()));
    const verdict = page.pieces.findIndex((p) => p.text.includes('Usable with care.'));
    expect(verdict).toBeGreaterThanOrEqual(0);
    expect(verdict).toBeLessThan(page.pieces.findIndex((p) => p.text.includes('Measures')));
  });

  it('says that there are no marks', async () => {
    expect(allText(await drawSheet(content({ marks: [] })))).toContain('No marks were found on this cast.');
  });

  it('wraps very long names and sets accents, Greek and Cyrillic', async () => {
    const pdf = await drawSheet(content({ orderNumber: `1042-${'X'.repeat(150)}`, particulars: [{ label: 'Remarks', text: 'Ćwikła Grünwälder Ωμέγα Жук\nnext\u0007line' }] }));
    const text = allText(pdf);
    expect(text).toContain('Ćwikła Grünwälder Ωμέγα Жук next line');
    expect(text.replaceAll(' ', '').match(/X/g)?.length).toBeGreaterThanOrEqual(150);
    expect(text).not.toContain('\uFFFD');
  });

  it('draws without drawings, and with a drawing that holds nothing', async () => {
    expect(allText(await drawSheet(content({ drawings: [] })))).not.toContain('Outlines');
    const empty: SheetDrawing = { title: 'Empty', outline: [], contours: [], tapes: [], marks: [], restLine: null };
    expect(allText(await drawSheet(content({ drawings: [empty, drawing('Sole, from below', 262, 100)] })))).toContain('Empty');
  });
});
