import type { SheetContent } from '../measurement/content.js';
import { BOLD, INK, SOFT, fitted, printable, setText } from './flow.js';
import type { Flow } from './flow.js';
import type { Figures } from './figures.js';
import type { SheetWords } from '../words/sheet-words.js';

/** What pages of every kind are drawn with. */
export interface Drawing {
  readonly flow: Flow;
  readonly words: SheetWords;
  readonly figures: Figures;
}

/** What every part of the sheet is drawn with. */
export interface SheetPage extends Drawing {
  readonly content: SheetContent;
}

/** Distance from the edge of the paper of what is drawn true to size: printers reach so far, points (5 mm). */
export const NARROW_MARGIN = 14.2;

/** A text cut short with an ellipsis where it is longer than `most` characters. */
export const shortened = (text: string, most: number): string => (text.length > most ? `${text.slice(0, most - 1)}…` : text);

/** The order and the side on one line: what no page may be without. */
export const orderAndSide = ({ content, words }: SheetPage): string => `${words.sides[content.side].toUpperCase()}, ${words.order} ${printable(content.orderNumber)}`;

/** The head of a page of drawings: what it shows on the left, a word on the right. */
export function pageTitle({ flow }: Drawing, title: string, right: string): void {
  const style = { font: BOLD, size: 13, colour: INK };
  flow.pdf.font(BOLD).fontSize(13);
  const rightWidth = Math.min(flow.width / 2, flow.pdf.widthOfString(right) + 4);
  const leftWidth = flow.width - rightWidth - 14;
  setText(flow, fitted(flow, title, leftWidth, style), flow.left, flow.y, leftWidth + 4, style);
  setText(flow, right, flow.left + flow.width - rightWidth, flow.y, rightWidth, { ...style, align: 'right' });
  flow.y += 22;
}

/** A line on what the pages are about, and the page number, at the foot of every page. */
export function drawFooters({ flow, words }: Drawing, about: string): void {
  const { pdf } = flow;
  const { start, count } = pdf.bufferedPageRange();
  for (let i = 0; i < count; i++) {
    pdf.switchToPage(start + i);
    const { width, height } = pdf.page;
    const y = height - 26;
    const room = width - 80;
    setText(flow, fitted(flow, about, room * 0.75, { size: 8 }), 40, y, room * 0.78, { size: 8, colour: SOFT });
    setText(flow, words.pageOf(i + 1, count), 40 + room * 0.8, y, room * 0.2, { size: 8, colour: SOFT, align: 'right' });
  }
}
