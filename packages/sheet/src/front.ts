import type { SheetContent, SheetFigure } from './content.js';
import { BAND, BOLD, INK, SOFT, heading, makeRoom, paragraph, setText, textHeight } from './flow.js';
import type { Flow, TextStyle } from './flow.js';
import { table } from './table.js';

/** Title band and particulars. */
export function drawHeader(flow: Flow, content: SheetContent): void {
  const { pdf, left, width } = flow;
  const sideWidth = 110;
  const order = `Order ${content.orderNumber}`;
  const orderHeight = textHeight(flow, order, width - sideWidth - 24, { font: BOLD, size: 13 });
  const verdictHeight = textHeight(flow, content.castCheck.verdict, width - 24, { font: BOLD, size: 9 });
  const band = 47 + orderHeight + verdictHeight;
  pdf.rect(left, flow.y, width, band).fill(BAND);
  setText(flow, 'Measurement sheet', left + 12, flow.y + 12, width - sideWidth - 24, { size: 10, colour: SOFT });
  setText(flow, order, left + 12, flow.y + 27, width - sideWidth - 24, { font: BOLD, size: 13 });
  setText(flow, content.side.toUpperCase(), left + width - sideWidth - 12, flow.y + 12, sideWidth, { font: BOLD, size: 20, align: 'right' });
  setText(flow, content.castCheck.verdict, left + 12, flow.y + 32 + orderHeight, width - 24, { font: BOLD, size: 9 });
  setText(flow, content.date ?? '', left + width - sideWidth - 12, flow.y + 38, sideWidth, { size: 9, colour: SOFT, align: 'right' });
  flow.y += band + 8;

  const gap = 16;
  const column = (width - gap) / 2;
  for (let i = 0; i < content.particulars.length; i += 2) {
    const pair = content.particulars.slice(i, i + 2);
    const height = Math.max(...pair.map((p) => textHeight(flow, p.text, column - 74)));
    makeRoom(flow, height);
    pair.forEach((p, k) => {
      const x = left + k * (column + gap);
      setText(flow, p.label, x, flow.y, 70, { colour: SOFT });
      setText(flow, p.text, x + 74, flow.y, column - 74, { colour: INK });
    });
    flow.y += height + 3;
  }
}

/** One decimal; an uncertainty that would round to nothing is said to be less than what is shown. */
const figure = (f: SheetFigure | null): [string, string] =>
  f === null ? ['absent', ''] : [f.value.toFixed(1), f.uncertainty < 0.05 ? '< 0.1' : f.uncertainty.toFixed(1)];

export function drawMeasures(flow: Flow, content: SheetContent): void {
  heading(flow, 'Measures', 60);
  table(
    flow,
    [
      { title: 'Measure', share: 25 },
      { title: 'Unit', share: 6 },
      { title: 'Cleaned cast', share: 13, align: 'right' },
      { title: '±', share: 7, align: 'right' },
      { title: 'Last', share: 11, align: 'right' },
      { title: '±', share: 7, align: 'right' },
      { title: 'Remark', share: 44 },
    ],
    content.measures.map((m) => [m.label, m.unit === 'deg' ? '°' : 'mm', ...figure(m.cast), ...figure(m.last), m.remark]),
  );
  paragraph(flow, content.measureNote, { size: 7.5, colour: SOFT });
}

/** Sizes side by side, the convention underneath. */
export function drawSizes(flow: Flow, content: SheetContent): void {
  heading(flow, 'Sizes', 60);
  const width = flow.width / Math.max(1, content.sizes.length);
  content.sizes.forEach(({ system, size }, i) => {
    setText(flow, system, flow.left + i * width, flow.y, width - 6, { size: 7.5, colour: SOFT });
    setText(flow, size, flow.left + i * width, flow.y + 11, width - 6, { font: BOLD, size: 12 });
  });
  flow.y += 30;
  paragraph(flow, content.sizeConvention, { size: 7.5, colour: SOFT });
}

export function drawCastCheck(flow: Flow, content: SheetContent): void {
  heading(flow, 'Cast check', 30);
  paragraph(flow, content.castCheck.verdict, { font: BOLD });
  for (const { severity, text } of content.castCheck.findings) paragraph(flow, `${severity}: ${text}`);
  for (const warning of content.warnings) paragraph(flow, `note: ${warning}`);
  if (content.castCheck.readings.length > 0) drawReadings(flow, content.castCheck);
}

const READING_NOTE =
  'Wanted, care and recast in the unit of the reading; care and recast: how far from what is wanted it may lie, or the limits themselves where nothing is wanted. ' +
  '± is the half-width of a 95 % interval.';

/** Every reading of the check with its limits, and under them why some could not be taken or weighed. */
function drawReadings(flow: Flow, { readings, reasons }: SheetContent['castCheck']): void {
  flow.y += 3;
  table(
    flow,
    [
      { title: 'Reading', share: 40 },
      { title: 'Measured', share: 20, align: 'right' },
      { title: 'Wanted', share: 12, align: 'right' },
      { title: 'Care beyond', share: 15, align: 'right' },
      { title: 'Recast beyond', share: 16, align: 'right' },
      { title: 'State', share: 14 },
    ],
    readings.map((r) => [r.label, r.measured, r.wanted, r.care, r.recast, r.state]),
    { size: 8 },
  );
  for (const reason of reasons) paragraph(flow, reason, { size: 7.5 });
  paragraph(flow, READING_NOTE, { size: 7.5, colour: SOFT });
}

const CAUTION: TextStyle = { size: 7.5 };

/** Whether all cautions still fit on this page. */
export function cautionsFit(flow: Flow, content: SheetContent): boolean {
  const height = content.cautions.reduce((sum, caution) => sum + textHeight(flow, caution, flow.width, CAUTION) + 3, 26);
  return flow.y + height <= flow.bottom;
}

export function drawCautions(flow: Flow, content: SheetContent): void {
  heading(flow, 'Cautions', 30);
  for (const caution of content.cautions) paragraph(flow, caution, CAUTION);
}
