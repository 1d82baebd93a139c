import { BAND, BOLD, RULE, SOFT, makeRoom, newPage, setText, textHeight } from './flow.js';
import type { Flow, TextStyle } from './flow.js';

export interface Column {
  readonly title: string;
  /** Share of the table's width. */
  readonly share: number;
  readonly align?: 'left' | 'right';
}

const PAD = 2.6;
/** Between a column set to the right and its neighbour set to the left. */
const AFTER_RIGHT = 6;
const CELL: TextStyle = { size: 8.5 };
const HEAD: TextStyle = { size: 7.5, font: BOLD, colour: SOFT };

/** A table over the whole width, `pad` points over and under each line; a row is never cut, and each page that the table reaches begins with its head. */
export function table(flow: Flow, columns: readonly Column[], rows: readonly (readonly string[])[], style: TextStyle = CELL, pad = PAD): void {
  const shares = columns.reduce((sum, c) => sum + c.share, 0);
  const widths = columns.map((c) => (flow.width * c.share) / shares);
  const insides = columns.map((c, i) => widths[i] - 2 * PAD - (c.align === 'right' ? AFTER_RIGHT : 0));
  const heightOf = (cells: readonly string[], s: TextStyle) =>
    Math.max(...cells.map((cell, i) => textHeight(flow, cell, insides[i], s))) + 2 * pad - 1;
  const titles = columns.map((c) => c.title);

  const drawRow = (cells: readonly string[], s: TextStyle, height: number): void => {
    let x = flow.left;
    cells.forEach((cell, i) => {
      setText(flow, cell, x + PAD, flow.y + pad, insides[i], { ...s, align: columns[i].align ?? 'left' });
      x += widths[i];
    });
    flow.y += height;
  };
  const drawHead = (): void => {
    const height = heightOf(titles, HEAD);
    flow.pdf.rect(flow.left, flow.y, flow.width, height).fill(BAND);
    drawRow(titles, HEAD, height);
  };

  makeRoom(flow, heightOf(titles, HEAD) + (rows.length > 0 ? heightOf(rows[0], style) : 0));
  drawHead();
  for (const row of rows) {
    const height = heightOf(row, style);
    if (flow.y + height > flow.bottom) {
      newPage(flow);
      drawHead();
    }
    drawRow(row, style, height);
    flow.pdf.moveTo(flow.left, flow.y).lineTo(flow.left + flow.width, flow.y).lineWidth(0.4).strokeColor(RULE).stroke();
  }
  flow.y += 4;
}
