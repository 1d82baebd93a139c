import type { SheetContent } from './content.js';
import { drawDrawings } from './drawings.js';
import { MARGIN, SOFT, closeFlow, openFlow, printable, setText } from './flow.js';
import type { Flow } from './flow.js';
import { cautionsFit, drawCastCheck, drawCautions, drawHeader, drawMeasures, drawSizes } from './front.js';
import { drawMarks } from './marks.js';

/** The measurement sheet as a PDF; the same content gives the same bytes. */
export function drawSheet(content: SheetContent): Promise<Uint8Array> {
  const created = new Date(`${content.date ?? '2000-01-01'}T00:00:00Z`);
  const flow = openFlow(content.paper, `Measurement sheet, order ${printable(content.orderNumber)}, ${content.side}`, created);
  drawHeader(flow, content);
  drawMeasures(flow, content);
  drawSizes(flow, content);
  drawCastCheck(flow, content);
  // The outlines begin on a page of their own. A front that runs over leaves room for the marks before them.
  const runsOver = flow.pdf.bufferedPageRange().count > 1;
  if (runsOver) drawMarks(flow, content);
  const cautionsInFront = cautionsFit(flow, content);
  if (cautionsInFront) drawCautions(flow, content);
  drawDrawings(flow, content);
  if (!runsOver) drawMarks(flow, content);
  if (!cautionsInFront) drawCautions(flow, content);
  drawFooters(flow, content);
  return closeFlow(flow);
}

function drawFooters(flow: Flow, content: SheetContent): void {
  const { start, count } = flow.pdf.bufferedPageRange();
  for (let i = 0; i < count; i++) {
    flow.pdf.switchToPage(start + i);
    const y = flow.pdf.page.height - MARGIN;
    const order = printable(content.orderNumber);
    const shown = order.length > 40 ? `${order.slice(0, 39)}…` : order;
    setText(flow, `Order ${shown}, ${content.side}`, flow.left, y, flow.width * 0.75, { size: 7.5, colour: SOFT });
    setText(flow, `Page ${i + 1} of ${count}`, flow.left + flow.width * 0.75, y, flow.width * 0.25, { size: 7.5, colour: SOFT, align: 'right' });
  }
}
