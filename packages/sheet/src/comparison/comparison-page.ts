import type { ComparisonContent, ComparisonFigure } from './comparison-content.js';
import type { SheetParticular } from '../measurement/content.js';
import { BOLD, INK, SOFT, fitted, heading, makeRoom, paragraph, setText, textHeight } from '../paper/flow.js';
import type { Drawing } from '../paper/sheet-page.js';
import { shortened } from '../paper/sheet-page.js';
import { table } from '../paper/table.js';
import type { Column } from '../paper/table.js';

const LABEL = 66;
const GAP = 14;
const ROW_PAD = 1.7;

/** What was compared, how the two were laid on each other, what is found, and every figure that both have. */
export function drawComparisonPage(drawing: Drawing, content: ComparisonContent): void {
  drawSubject(drawing, content);
  drawBodies(drawing, content);
  drawFindings(drawing, content);
  drawFigures(drawing, content);
  for (const { label, text } of content.particulars) paragraph(drawing.flow, `${label}: ${text}`, { size: 7.5, colour: SOFT });
  paragraph(drawing.flow, drawing.words.cautions.purpose, { size: 7.5, colour: SOFT });
}

function drawSubject({ flow, words }: Drawing, { subject }: ComparisonContent): void {
  setText(flow, words.comparison.title, flow.left, flow.y, flow.width, { size: 10, colour: SOFT });
  const style = { font: BOLD, size: 20, colour: INK };
  setText(flow, fitted(flow, subject, flow.width, style), flow.left, flow.y + 14, flow.width + 4, style);
  flow.y += 44;
}

/** Both bodies side by side, and under them how well they lie on each other. */
function drawBodies({ flow, words, figures }: Drawing, { names, bodies, registration, mirrored }: ComparisonContent): void {
  const width = (flow.width - GAP) / 2;
  const top = flow.y;
  const ends = bodies.map((particulars: readonly SheetParticular[], i) => {
    const left = flow.left + i * (width + GAP);
    setText(flow, names[i], left, top, width, { font: BOLD, size: 11 });
    let y = top + 17;
    for (const { label, text } of particulars) {
      const said = shortened(text, 120);
      setText(flow, label, left, y, LABEL - 4, { size: 9, colour: SOFT });
      setText(flow, said, left + LABEL, y, width - LABEL, { size: 9 });
      y += textHeight(flow, said, width - LABEL, { size: 9 }) + 2;
    }
    return y;
  });
  flow.y = Math.max(...ends) + 4;
  const share = figures.plain(100 * registration.usedShare, 0);
  paragraph(flow, words.comparison.laid(mirrored ? 'mirrored' : 'asItIs', share, `${figures.plain(registration.rms, 2)} mm`), { size: 9 });
}

function drawFindings({ flow, words }: Drawing, { findings }: ComparisonContent): void {
  heading(flow, words.comparison.findings, 24);
  if (findings.length === 0) paragraph(flow, words.comparison.nothing, { size: 9 });
  for (const { severity, label, text } of findings) {
    const said = label === '' ? text : `${label}: ${text}`;
    const height = textHeight(flow, said, flow.width - LABEL, { size: 8.5 });
    makeRoom(flow, height);
    setText(flow, words.severities[severity], flow.left, flow.y, LABEL - 4, { size: 8.5, font: BOLD });
    setText(flow, said, flow.left + LABEL, flow.y, flow.width - LABEL, { size: 8.5 });
    flow.y += height + 3;
  }
}

function drawFigures(drawing: Drawing, { figures: rows, names, inches }: ComparisonContent): void {
  if (rows.length === 0) return;
  const { flow, words, figures } = drawing;
  heading(flow, `${words.measures} (mm)`, 40);
  const decimals = (f: ComparisonFigure): number => (f.unit === '' ? 2 : 1);
  const sign = (f: ComparisonFigure): string => (f.unit === 'deg' ? '°' : '');
  const inch = (f: ComparisonFigure, mm: number): string => (f.unit === 'mm' ? figures.inches(mm) : '');
  const difference = (f: ComparisonFigure): string => {
    const around = f.unit === '' ? figures.plain(f.uncertainty, 2) : figures.around({ value: f.difference, uncertainty: f.uncertainty });
    const wanted = Math.abs(f.expected) < 0.05 ? '' : ` (${words.wanted} ${figures.signed(f.expected, decimals(f))})`;
    return `${figures.signed(f.difference, decimals(f))} ± ${around}${sign(f)}${wanted}`;
  };
  const columns: readonly (Column & { readonly text: (f: ComparisonFigure) => string })[] = [
    { title: words.measure, share: 112, text: (f) => f.label },
    ...names.flatMap((name, i) => {
      const value = (f: ComparisonFigure): number => (i === 0 ? f.first : f.second);
      return [
        { title: name, share: 64, align: 'right' as const, text: (f: ComparisonFigure) => `${figures.plain(value(f), decimals(f))}${sign(f)}` },
        ...(inches ? [{ title: words.inch, share: 36, align: 'right' as const, text: (f: ComparisonFigure) => inch(f, value(f)) }] : []),
      ];
    }),
    { title: words.comparison.difference, share: 86, align: 'right', text: difference },
    { title: words.comparison.limit, share: 42, align: 'right', text: (f) => (f.limit === null ? '' : `${figures.plain(f.limit)}${sign(f)}`) },
    { title: '', share: 52, text: (f) => (f.beyond ? words.comparison.beyond : '') },
  ];
  table(flow, columns, rows.map((f) => columns.map((c) => c.text(f))), { size: 8.5 }, ROW_PAD);
  paragraph(flow, words.comparison.note, { size: 7.5, colour: SOFT });
}
