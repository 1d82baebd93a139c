import type { SheetVerdict } from './content.js';
import { BAND, BOLD, INK, SOFT, fitted, printable, setText, textHeight } from '../paper/flow.js';
import { drawQrCode } from '../paper/qr-code.js';
import { shortened } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';

const CODE = 78;
const GAP = 10;
/** The largest type in which an order number stands on one line, then two lines of the smallest. */
const ORDER_SIZES = [24, 20, 17, 14, 12];

/** Order, side and the code to find the record by; the verdict on the cast under them. */
export function drawHeader(page: SheetPage): void {
  const { flow, content, words } = page;
  const { pdf, left, width } = flow;
  const side = words.sides[content.side].toUpperCase();
  pdf.font(BOLD).fontSize(26);
  const sideWidth = pdf.widthOfString(side) + 28;
  const room = width - CODE - sideWidth - 3 * GAP;
  const order = `${words.order} ${shortened(printable(content.orderNumber), 80)}`;
  pdf.font(BOLD);
  const size = ORDER_SIZES.find((s) => pdf.fontSize(s).widthOfString(order) <= room) ?? ORDER_SIZES[ORDER_SIZES.length - 1];
  const top = flow.y;
  setText(flow, words.title, left, top, room, { size: 10, colour: SOFT });
  setText(flow, order, left, top + 15, room, { font: BOLD, size });
  const orderHeight = textHeight(flow, order, room, { font: BOLD, size });
  const lines = [
    content.customerNumber === null ? '' : `${words.customer} ${content.customerNumber}`,
    content.date === null ? '' : `${words.date} ${content.date}`,
    words.record(content.fingerprint),
  ].filter((text) => text !== '');
  lines.forEach((text, i) => setText(flow, fitted(flow, text, room - 4, { size: 9 }), left, top + 19 + orderHeight + i * 12.5, room, { size: 9, colour: i === lines.length - 1 ? SOFT : INK }));
  const wordsEnd = top + 19 + orderHeight + lines.length * 12.5;

  const codeLeft = left + width - CODE;
  const sideLeft = codeLeft - GAP - sideWidth;
  pdf.rect(sideLeft, top, sideWidth, 44).fill(INK);
  setText(flow, side, sideLeft, top + 8, sideWidth, { font: BOLD, size: 26, align: 'center', colour: '#ffffff' });
  drawQrCode(pdf, content.record, codeLeft, top - 4, CODE);
  flow.y = Math.max(wordsEnd, top + CODE - 4) + 6;
  drawVerdict(page);
}

/** How dark the verdict's bar is tells how bad it is; its words say it. */
const BARS: Readonly<Record<SheetVerdict, { readonly fill: string; readonly ink: string }>> = {
  usable: { fill: BAND, ink: INK },
  'usable-with-care': { fill: '#c9d2da', ink: INK },
  recast: { fill: INK, ink: '#ffffff' },
};

function drawVerdict({ flow, content, words }: SheetPage): void {
  const { fill, ink } = BARS[content.verdict];
  flow.pdf.rect(flow.left, flow.y, flow.width, 21).fill(fill);
  setText(flow, words.verdicts[content.verdict], flow.left + 8, flow.y + 4.5, flow.width - 16, { font: BOLD, size: 11, colour: ink });
  flow.y += 21 + 8;
}
