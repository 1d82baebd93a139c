import type { SheetFigure, SheetMeasure } from './content.js';
import { BAND, BOLD, REGULAR, RULE, SOFT, TAPE, fitted, paragraph, setText, textHeight } from '../paper/flow.js';
import type { TextStyle } from '../paper/flow.js';
import type { SheetPage } from '../paper/sheet-page.js';

/** Height of a row, points: as much as the page has room for, between these. */
const ROWS = { tight: 11, least: 12.1, most: 15.5 } as const;
const SIZE = 10;
const HEAD = 7.5;
const TITLES = 26;
const REMARK: TextStyle = { size: 7.5 };
const NOTE: TextStyle = { size: 7, colour: SOFT };

interface Column {
  readonly title: string;
  /** Above the titles of columns that belong together. */
  readonly group: string;
  readonly share: number;
  readonly text: (m: SheetMeasure) => string;
  readonly bold?: boolean;
  readonly left?: boolean;
}

/** Height of all but the rows. */
function measuresAround({ flow, content, words }: SheetPage): number {
  const notes = remarksOf(content.measures).reduce((sum, { text }) => sum + textHeight(flow, `1)  ${text}`, flow.width, REMARK) + 3, 0);
  return TITLES + 4 + notes + textHeight(flow, words.measureNote, flow.width, NOTE) + 3;
}

/** Least height of the whole table. */
export const measuresHeight = (page: SheetPage): number => measuresAround(page) + ROWS.least * page.content.measures.length;

/**
 * @param room for the whole table: its rows spread over it as far as they may
 * @param tight where the page has no room for rows of the usual least height
 */
export const measureRow = (page: SheetPage, room: number, tight = false): number =>
  Math.min(ROWS.most, Math.max(tight ? ROWS.tight : ROWS.least, (room - measuresAround(page)) / Math.max(1, page.content.measures.length)));

/** One row a measure: of the cast, of the last, and of the other cast where there is one. */
export function drawMeasures(page: SheetPage, row: number): void {
  const { flow, content, words } = page;
  if (content.measures.length === 0) return;
  const { pdf } = flow;
  const columns = columnsOf(page);
  const shares = columns.reduce((sum, c) => sum + c.share, 0);
  const widths = columns.map((c) => (c.share / shares) * flow.width);
  const starts = widths.map((_, i) => flow.left + widths.slice(0, i).reduce((sum, w) => sum + w, 0));
  const top = flow.y;
  pdf.rect(flow.left, top, flow.width, TITLES).fill(BAND);
  columns.forEach((c, i) => {
    if (c.group !== '' && c.group !== columns[i - 1]?.group) {
      const until = columns.findLastIndex((other) => other.group === c.group);
      setText(flow, c.group, starts[i], top + 3, starts[until] + widths[until] - starts[i] - 4, { size: HEAD, font: BOLD, align: 'right' });
    }
    const style: TextStyle = { size: HEAD, colour: SOFT, align: c.left === true ? 'left' : 'right' };
    setText(flow, c.title, starts[i] + 3, top + 24 - textHeight(flow, c.title, widths[i] - 7, style), widths[i] - 7, style);
  });
  flow.y += TITLES;
  const notes = remarksOf(content.measures);
  for (const m of content.measures) {
    const mark = notes.findIndex(({ labels }) => labels.includes(m.label)) + 1;
    columns.forEach((c, i) => {
      const text = c.text(m);
      if (c === columns[0] && text !== '') {
        pdf.circle(starts[i] + 8, flow.y + row / 2, 5).lineWidth(0.7).strokeColor(TAPE).stroke();
        setText(flow, text, starts[i] + 3, flow.y + row / 2 - 3.6, 10, { size: 7, font: BOLD, colour: TAPE, align: 'center' });
        return;
      }
      const style: TextStyle = { size: SIZE, font: c.bold === true ? BOLD : REGULAR, align: c.left === true ? 'left' : 'right' };
      setText(flow, i === 1 ? fitted(flow, text, widths[i] - 14, style) : text, starts[i] + 3, flow.y + row / 2 - 5.4, widths[i] - (c.left === true ? 0 : 7), style);
      if (i === 1 && mark > 0) {
        pdf.font(REGULAR).fontSize(SIZE);
        setText(flow, `${mark})`, starts[i] + 5 + Math.min(pdf.widthOfString(text), widths[i] - 14), flow.y + row / 2 - 6.5, 14, { size: 6.5, colour: SOFT });
      }
    });
    flow.y += row;
    pdf.moveTo(flow.left, flow.y).lineTo(flow.left + flow.width, flow.y).lineWidth(0.4).strokeColor(RULE).stroke();
  }
  flow.y += 4;
  notes.forEach(({ text }, i) => paragraph(flow, `${i + 1})  ${text}`, REMARK));
  paragraph(flow, words.measureNote, NOTE);
}

/** Each remark once, with the labels of the measures that it is about. */
function remarksOf(measures: readonly SheetMeasure[]): { readonly text: string; readonly labels: readonly string[] }[] {
  const texts = [...new Set(measures.map((m) => m.remark))].filter((text) => text !== '');
  return texts.map((text) => ({ text, labels: measures.filter((m) => m.remark === text).map((m) => m.label) }));
}

function columnsOf({ content, words, figures }: SheetPage): Column[] {
  const { plain, signed, around, inches } = figures;
  const value = (of: (m: SheetMeasure) => SheetFigure | null) => (m: SheetMeasure): string => {
    const figure = of(m);
    return figure === null ? words.absent : `${plain(figure.value)}${m.unit === 'deg' ? '°' : ''}`;
  };
  const uncertainty = (of: (m: SheetMeasure) => SheetFigure | null) => (m: SheetMeasure): string => {
    const figure = of(m);
    return figure === null ? '' : around(figure);
  };
  const inInches = (of: (m: SheetMeasure) => SheetFigure | null) => (m: SheetMeasure): string => {
    const figure = of(m);
    return figure === null || m.unit === 'deg' ? '' : inches(figure.value);
  };
  const three = (group: string, of: (m: SheetMeasure) => SheetFigure | null, bold: boolean): Column[] => [
    { title: 'mm', group, share: 42, text: value(of), bold },
    { title: '±', group, share: 28, text: uncertainty(of) },
    ...(content.inches ? [{ title: words.inch, group, share: 33, text: inInches(of) }] : []),
  ];
  const other = content.other;
  return [
    { title: '', group: '', share: 15, text: (m) => m.letter, left: true },
    { title: words.measure, group: '', share: 122, text: (m) => m.label, left: true },
    ...three(words.cleanedCast, (m) => m.cast, false),
    ...three(words.last, (m) => m.last, true),
    { title: words.lastLessCast, group: '', share: 46, text: (m) => (m.change === null ? '' : signed(m.change)) },
    ...(other === null
      ? []
      : [
        { title: words.otherFoot[other], group: '', share: 44, text: (m: SheetMeasure) => (m.other === null ? '' : value((n) => n.other)(m)) },
        { title: words.ownLessOther[other === 'same' ? 'same' : content.side], group: '', share: 46, text: (m: SheetMeasure) => (m.difference === null ? '' : signed(m.difference)) },
      ]),
  ];
}
