import type { SheetOutline } from './content.js';
import { drawBodies, drawFeather } from '../paper/body-lines.js';
import { FAINT, INK, PT_PER_MM, SOFT, fitted, newPage, setText } from '../paper/flow.js';
import { extentOf, onPage, place, trace } from '../paper/placed.js';
import type { Extent, Placed } from '../paper/placed.js';
import { BAR_ROOM, drawScaleBar } from './scale-bar.js';
import { NARROW_MARGIN, orderAndSide, pageTitle } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { LETTERS, drawTapes } from './tapes.js';

/** Scales, 1 to this: the first is true size. */
const RATIOS = [1, 2, 4, 8];
const TITLE = 22;
const RULER = 28;
const GAP = 6;
/** Room left and right of what a drawing covers, for the width of its lines, points. */
const EDGE = 2;

/** Side profile and sole, each as large as the paper allows, on pages lying on their side. */
export function drawOutlines(page: SheetPage): void {
  const { flow, content } = page;
  let open = false;
  for (const outline of content.outlines) {
    const extent = extentOfOutline(outline);
    if (extent.width === 0) continue;
    const letters = outline.tapes.length > 0 ? LETTERS : 0;
    const around = TITLE + letters + RULER + GAP;
    if (!open) startPage(page);
    const whole = flow.bottom - NARROW_MARGIN - BAR_ROOM;
    const wide = (ratio: number): boolean => (extent.width * PT_PER_MM) / ratio + 2 * EDGE <= flow.width;
    const high = (ratio: number): boolean => (extent.height * PT_PER_MM) / ratio + around <= whole;
    const ratio = RATIOS.find((r) => wide(r) && high(r)) ?? RATIOS[RATIOS.length - 1];
    const tooLong = Math.max(wide(1) ? 0 : extent.width, high(1) ? 0 : extent.height);
    const scale = PT_PER_MM / ratio;
    const height = around + extent.height * scale;
    if (open && flow.y + height > flow.bottom - BAR_ROOM) startPage(page);
    open = true;
    drawTitle(page, outline, tooLong, ratio);
    const x = flow.left + (flow.width - extent.width * scale) / 2;
    const placed = place(extent, x, flow.y + letters + extent.height * scale, scale);
    drawOutline(page, outline, placed);
    flow.y = placed.y + RULER + GAP;
  }
}

function startPage(page: SheetPage): void {
  newPage(page.flow, { layout: 'landscape', margin: NARROW_MARGIN });
  drawScaleBar(page, page.content.outlines.some((o) => o.feather.length > 0));
}

function extentOfOutline({ cast, last, restLine, ruler }: SheetOutline): Extent {
  const lines = [...cast, ...last];
  if (lines.length === 0) return extentOf([]);
  const bodies = extentOf(lines);
  const up = restLine ?? bodies.minUp;
  return extentOf(lines, [bodies.minRight, up], [ruler.zero, up], [ruler.zero + ruler.direction * ruler.length, up]);
}

const TITLES = { 'profile-outer': 'outer', 'profile-inner': 'inner' } as const;

function drawTitle(page: SheetPage, { view }: SheetOutline, tooLong: number, ratio: number): void {
  const { words } = page;
  const title = view === 'sole' ? words.sole : words.profile[TITLES[view]];
  pageTitle(page, `${title}   ${orderAndSide(page)}`, scaleWords(page, ratio, tooLong));
}

/** What a drawing's scale is called: true size, or reduced with the length that did not fit. */
export function scaleWords({ words, figures }: SheetPage, ratio: number, tooLong: number): string {
  const scale = words.scaleOf(figures.plain(ratio, Number.isInteger(ratio) ? 0 : 1));
  return ratio === 1 ? `${scale}  ${words.trueSize}` : `${scale}  ${words.reduced(`${figures.plain(tooLong, 0)} mm`)}`;
}

function drawOutline(page: SheetPage, outline: SheetOutline, placed: Placed): void {
  const { flow } = page;
  const { pdf } = flow;
  if (outline.restLine !== null) {
    const [, y] = onPage(placed, 0, outline.restLine);
    pdf.moveTo(placed.x, y).lineTo(placed.x + placed.width, y).lineWidth(0.5).strokeColor(SOFT).stroke();
  }
  for (const line of outline.contours) trace(flow, placed, line);
  if (outline.contours.length > 0) pdf.lineWidth(0.35).strokeColor(FAINT).stroke();
  drawBodies(flow, placed, outline.cast, outline.last);
  drawFeather(flow, placed, outline.feather);
  drawTapes(flow, placed, outline.tapes);
  drawRuler(page, outline, placed);
}

/** Ticks every 10 mm of the cast under the drawing, numbers every 50. */
function drawRuler(page: SheetPage, { ruler, view }: SheetOutline, placed: Placed): void {
  const { flow, words } = page;
  const { pdf } = flow;
  const top = placed.y + 4;
  const at = (mm: number): number => onPage(placed, ruler.zero + ruler.direction * mm, 0)[0];
  const length = Math.floor(ruler.length / 10) * 10;
  pdf.moveTo(at(0), top).lineTo(at(length), top);
  for (let mm = 0; mm <= length; mm += 10) pdf.moveTo(at(mm), top).lineTo(at(mm), top + (mm % 50 === 0 ? 6 : 3));
  pdf.lineWidth(0.6).strokeColor(INK).stroke();
  for (let mm = 0; mm <= length; mm += 50) setText(flow, String(mm), at(mm) - 15, top + 7, 30, { size: 7.5, align: 'center' });
  const note = view === 'sole' ? words.contourNote : words.rulerNote;
  const style = { size: 7, colour: SOFT };
  setText(flow, fitted(flow, note, placed.width, style), placed.x, top + 16.5, placed.width + 4, style);
}
