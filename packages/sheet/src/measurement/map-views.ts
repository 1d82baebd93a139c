import type { SheetMapView } from './content.js';
import { drawBodies } from '../paper/body-lines.js';
import { drawChangeAreas, drawPeaks } from '../paper/change-areas.js';
import { BOLD, FAINT, MARGIN, PT_PER_MM, newPage, setText } from '../paper/flow.js';
import { LEGEND } from './legend.js';
import { drawMarks } from './mark-badges.js';
import { extentOf, place, trace } from '../paper/placed.js';
import type { Extent } from '../paper/placed.js';
import { pageTitle } from '../paper/sheet-page.js';
import type { Drawing } from '../paper/sheet-page.js';

/** Scales that a ruler knows, 1 to this. */
const SCALES = [1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20];
const TITLE = 13;
const GAP = 9;
/** What a page with room to spare puts between views, points. */
const MOST_MORE = 26;

/**
 * Views under one another on a page of their own. Gives the place beside them where their legend begins; null where no view
 * shows anything, and there is no page.
 */
export function drawMapViews(drawing: Drawing, map: readonly SheetMapView[], title: string): { readonly x: number; readonly y: number } | null {
  const { flow, words, figures } = drawing;
  const views = map.filter((v) => v.cast.length + v.last.length > 0);
  if (views.length === 0) return null;
  newPage(flow, { layout: 'portrait', margin: MARGIN });
  const extents = views.map((v) => extentOf([...v.cast, ...v.last]));
  const width = flow.width - LEGEND - GAP;
  const room = flow.bottom - flow.y - 22;
  const fits = (ratio: number): boolean =>
    extents.every((e) => (e.width * PT_PER_MM) / ratio <= width) &&
    extents.reduce((sum, e) => sum + (e.height * PT_PER_MM) / ratio + TITLE + GAP, 0) <= room;
  const ratio = SCALES.find(fits) ?? SCALES[SCALES.length - 1];
  pageTitle(drawing, title, words.scaleOf(figures.plain(ratio, Number.isInteger(ratio) ? 0 : 1)));
  const top = flow.y;
  const used = extents.reduce((sum, e) => sum + (e.height * PT_PER_MM) / ratio + TITLE + GAP, 0);
  const more = Math.min(MOST_MORE, Math.max(0, (flow.bottom - top - used) / views.length));
  views.forEach((view, i) => {
    drawView(drawing, view, extents[i], PT_PER_MM / ratio, width);
    flow.y += more;
  });
  return { x: flow.left + width + GAP, y: top };
}

function drawView({ flow, words, figures }: Drawing, view: SheetMapView, extent: Extent, scale: number, width: number): void {
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
