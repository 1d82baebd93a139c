import { BOLD, INK, PT_PER_MM, REGULAR, SOFT, TAPE, setText } from '../paper/flow.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { CAST_LINE, FEATHER_LINE, LAST_LINE, dashed } from '../paper/body-lines.js';

/** Room for the bar and the legend at the foot of a page of drawings. */
export const BAR_ROOM = 34;
const LENGTH_MM = 100;
const SWATCH = 27;
const BETWEEN = 12;

/** A bar of 100 mm by which to check the printer, and what the lines of the drawings are, at the foot of the page; `feather` is among them where the page may show one. */
export function drawScaleBar(page: SheetPage, feather = false): void {
  const { flow, content, words, figures } = page;
  const { pdf, left } = flow;
  const y = flow.bottom - BAR_ROOM + 20;
  const length = LENGTH_MM * PT_PER_MM;
  pdf.moveTo(left, y).lineTo(left + length, y).lineWidth(0.8).strokeColor(INK).stroke();
  for (let mm = 0; mm <= LENGTH_MM; mm += 10) {
    const high = mm % 50 === 0 ? 8 : 4;
    pdf.moveTo(left + mm * PT_PER_MM, y).lineTo(left + mm * PT_PER_MM, y - high);
  }
  pdf.lineWidth(0.8).stroke();
  setText(flow, `${LENGTH_MM} mm`, left + length + 6, y - 9, 60, { font: BOLD, size: 9 });
  const words100 = words.bar(content.inches ? `${figures.inches(LENGTH_MM)} ${words.inch}` : '');
  setText(flow, words100, left, y + 4, flow.width, { size: 7.5, colour: SOFT });
  const entries = [
    { text: words.castLine, ...CAST_LINE, dashes: [] }, { text: words.lastLine, ...LAST_LINE, dashes: [] }, { text: words.tapeLine, width: 0.8, colour: TAPE, dashes: [] },
    ...(feather ? [{ text: words.featherLine, ...FEATHER_LINE }] : []),
  ];
  pdf.font(REGULAR).fontSize(8);
  const widths = entries.map(({ text }) => pdf.widthOfString(text) + 2);
  const wide = widths.reduce((sum, w) => sum + SWATCH + w + BETWEEN, -BETWEEN);
  const beside = left + length + 56 + wide <= left + flow.width;
  let x = left + flow.width - wide;
  const middle = beside ? y - 4 : y - 20;
  entries.forEach(({ text, width, colour, dashes }, i) => {
    dashed(flow, dashes);
    pdf.moveTo(x, middle).lineTo(x + SWATCH - 5, middle).lineWidth(width).strokeColor(colour).stroke().undash();
    setText(flow, text, x + SWATCH, middle - 4.5, widths[i] + 2, { size: 8 });
    x += SWATCH + widths[i] + BETWEEN;
  });
}
