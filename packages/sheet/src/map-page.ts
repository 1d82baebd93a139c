import type { SheetMapView } from './content.js';
import { CAST_LINE, LAST_LINE, drawBodies } from './body-lines.js';
import { drawChangeAreas, drawChangeSwatch, drawPeaks } from './change-areas.js';
import { BOLD, FAINT, MARGIN, PT_PER_MM, SOFT, newPage, setText, textHeight } from './flow.js';
import type { TextStyle } from './flow.js';
import { drawBadge, drawMarks } from './mark-badges.js';
import { extentOf, place, trace } from './placed.js';
import type { Extent } from './placed.js';
import { orderAndSide, pageTitle } from './sheet-page.js';
import type { SheetPage } from './sheet-page.js';

/** Scales that a ruler knows, 1 to this. */
const SCALES = [1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20];
const TITLE = 13;
const GAP = 9;
/** What a page with room to spare puts between views, points. */
const MOST_MORE = 26;
const LEGEND = 128;

/** Marks and changes on four views under one another, the legend beside them. */
export function drawMap(page: SheetPage): void {
  const { flow, content, words, figures } = page;
  const views = content.map.filter((v) => v.cast.length + v.last.length > 0);
  if (views.length === 0) return;
  newPage(flow, { layout: 'portrait', margin: MARGIN });
  const extents = views.map((v) => extentOf([...v.cast, ...v.last]));
  const width = flow.width - LEGEND - GAP;
  const room = flow.bottom - flow.y - 22;
  const fits = (ratio: number): boolean =>
    extents.every((e) => (e.width * PT_PER_MM) / ratio <= width) &&
    extents.reduce((sum, e) => sum + (e.height * PT_PER_MM) / ratio + TITLE + GAP, 0) <= room;
  const ratio = SCALES.find(fits) ?? SCALES[SCALES.length - 1];
  pageTitle(page, `${words.map}   ${orderAndSide(page)}`, words.scaleOf(figures.plain(ratio, Number.isInteger(ratio) ? 0 : 1)));
  const top = flow.y;
  const used = extents.reduce((sum, e) => sum + (e.height * PT_PER_MM) / ratio + TITLE + GAP, 0);
  const more = Math.min(MOST_MORE, Math.max(0, (flow.bottom - top - used) / views.length));
  views.forEach((view, i) => {
    drawView(page, view, extents[i], PT_PER_MM / ratio, width);
    flow.y += more;
  });
  drawLegend(page, flow.left + width + GAP, top);
}

function drawView(page: SheetPage, view: SheetMapView, extent: Extent, scale: number, width: number): void {
  const { flow, words, figures } = page;
  setText(flow, words.mapViews[view.view], flow.left, flow.y, width, { size: 9, font: BOLD });
  const placed = place(extent, flow.left + (width - extent.width * scale) / 2, flow.y + TITLE + extent.height * scale, scale);
  for (const line of view.contours) trace(flow, placed, line);
  if (view.contours.length > 0) flow.pdf.lineWidth(0.35).strokeColor(FAINT).stroke();
  drawChangeAreas(flow, placed, view.changes);
  drawBodies(flow, placed, view.cast, view.last, 0.75);
  const badges = drawMarks(flow, placed, view.marks);
  drawPeaks(flow, placed, view.peaks, badges, (value) => figures.signed(value));
  flow.y = placed.y + GAP;
}

function drawLegend(page: SheetPage, x: number, top: number): void {
  const { flow, content, words, figures } = page;
  let y = top;
  const say = (text: string, style: TextStyle, indent = 0): void => {
    setText(flow, text, x + indent, y, LEGEND - indent, style);
    y += textHeight(flow, text, LEGEND - indent, style) + 3;
  };
  const row = (draw: (middle: number) => void, text: string, indent: number): void => {
    const style: TextStyle = { size: 8.5 };
    const height = Math.max(15, textHeight(flow, text, LEGEND - indent, style));
    draw(y + height / 2);
    setText(flow, text, x + indent, y + (height - textHeight(flow, text, LEGEND - indent, style)) / 2 + 1, LEGEND - indent, style);
    y += height + 4;
  };
  const beyonds = [...new Set(content.map.flatMap((v) => v.changes.filter((c) => c.areas.length > 0).map((c) => c.beyond)))];
  say(words.mapChanges, { size: 9, font: BOLD });
  for (const way of [1, -1]) {
    const levels = [...new Set(content.map.flatMap((v) => v.changes.map((c) => c.beyond)))].filter((b) => Math.sign(b) === way);
    levels.forEach((beyond, step) => {
      if (!beyonds.includes(beyond)) return;
      const from = `${figures.plain(Math.abs(beyond))} mm`;
      row((middle) => drawChangeSwatch(flow, x, middle - 6.5, beyond, step), way > 0 ? words.added(from) : words.taken(from), 34);
    });
  }
  say(beyonds.length === 0 ? words.noMapChanges : words.largest, { size: 8, colour: SOFT });
  for (const [text, { width, colour }] of [[words.castLine, CAST_LINE], [words.lastLine, LAST_LINE]] as const) {
    row((middle) => flow.pdf.moveTo(x, middle).lineTo(x + 26, middle).lineWidth(width * 0.75).strokeColor(colour).stroke(), text, 34);
  }
  y += 8;
  say(words.mapMarks, { size: 9, font: BOLD });
  for (const decision of ['smooth', 'keep', 'ask'] as const) {
    row((middle) => drawBadge(flow, decision, String(content.marks.filter((m) => m.decision === decision).length), x + 12, middle), words.decisions[decision], 34);
  }
  say(content.marks.length === 0 ? words.noMarks : words.mapNote, { size: 8, colour: SOFT });
  say(words.contourNote, { size: 8, colour: SOFT });
}
