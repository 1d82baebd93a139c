import type { SheetContent, SheetDrawing } from './content.js';
import { BOLD, FAINT, INK, PT_PER_MM, SOFT, heading, makeRoom, newPage, paragraph, setText } from './flow.js';
import type { Flow } from './flow.js';
import { drawMarkDots } from './mark-dots.js';
import { onPage, trace } from './placed.js';
import type { Placed } from './placed.js';
import { drawTapes } from './tapes.js';

/** Scales that a ruler knows, 1 to this. */
const SCALES = [1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20];
const TITLE = 14;
const BADGES = 20;
const GAP = 10;

interface Extent { readonly width: number; readonly height: number; readonly minRight: number; readonly minUp: number }

function extent({ outline, restLine }: SheetDrawing): Extent {
  let [left, right, low, high] = [Infinity, -Infinity, restLine ?? Infinity, restLine ?? -Infinity];
  for (const { points } of outline) {
    for (let i = 0; i < points.length; i += 2) {
      left = Math.min(left, points[i]);
      right = Math.max(right, points[i]);
      low = Math.min(low, points[i + 1]);
      high = Math.max(high, points[i + 1]);
    }
  }
  return Number.isFinite(right - left) ? { width: right - left, height: high - low, minRight: left, minUp: low } : { width: 0, height: 0, minRight: 0, minUp: 0 };
}

/** Rows of drawings, in order, as many beside one another as fit. */
function rowsAt(extents: readonly Extent[], scale: number, width: number): number[][] {
  const rows: number[][] = [];
  let used = Infinity;
  extents.forEach((e, i) => {
    const needs = e.width * scale;
    if (used + GAP + needs > width) {
      rows.push([]);
      used = -GAP;
    }
    rows[rows.length - 1].push(i);
    used += GAP + needs;
  });
  return rows;
}

const rowHeight = (row: readonly number[], extents: readonly Extent[], scale: number): number =>
  Math.max(...row.map((i) => extents[i].height)) * scale + TITLE + BADGES + GAP;

/** All drawings at one scale, the largest that fits on one page. */
export function drawDrawings(flow: Flow, content: SheetContent): void {
  if (content.drawings.length === 0) return;
  newPage(flow);
  heading(flow, 'Outlines', 100);
  const extents = content.drawings.map(extent);
  const legendRoom = 70;
  const room = flow.bottom - flow.y - legendRoom;
  const fits = (ratio: number): boolean => {
    const scale = PT_PER_MM / ratio;
    const rows = rowsAt(extents, scale, flow.width);
    const widest = Math.max(...extents.map((e) => e.width)) * scale;
    return widest <= flow.width && rows.reduce((sum, row) => sum + rowHeight(row, extents, scale), 0) <= room;
  };
  const ratio = SCALES.find(fits) ?? SCALES[SCALES.length - 1];
  const scale = PT_PER_MM / ratio;
  for (const row of rowsAt(extents, scale, flow.width)) {
    const height = rowHeight(row, extents, scale);
    makeRoom(flow, height);
    let x = flow.left;
    for (const i of row) {
      drawOne(flow, { drawing: content.drawings[i], x, y: flow.y + height - GAP, scale, ...extents[i], width: extents[i].width * scale, height: extents[i].height * scale });
      x += extents[i].width * scale + GAP;
    }
    flow.y += height;
  }
  drawLegend(flow, content, ratio, scale);
}

function drawOne(flow: Flow, placed: Placed): void {
  const { pdf } = flow;
  const { drawing } = placed;
  const top = placed.y - placed.height - BADGES - TITLE;
  setText(flow, drawing.title, placed.x, top, Math.max(placed.width, 90), { size: 8.5, font: BOLD });
  if (drawing.outline.length === 0) return;
  if (drawing.restLine !== null) {
    const [, y] = onPage(placed, 0, drawing.restLine);
    pdf.moveTo(placed.x, y).lineTo(placed.x + placed.width, y).lineWidth(0.5).strokeColor(SOFT).stroke();
  }
  for (const line of drawing.contours) trace(flow, placed, line);
  if (drawing.contours.length > 0) pdf.lineWidth(0.35).strokeColor(FAINT).stroke();
  for (const line of drawing.outline) trace(flow, placed, line);
  pdf.lineWidth(1).lineJoin('round').strokeColor(INK).stroke();
  drawTapes(flow, placed);
  drawMarkDots(flow, placed);
}

function drawLegend(flow: Flow, content: SheetContent, ratio: number, scale: number): void {
  const { pdf } = flow;
  makeRoom(flow, 60);
  const bar = 50 * scale;
  pdf.moveTo(flow.left, flow.y + 2).lineTo(flow.left, flow.y + 8).moveTo(flow.left, flow.y + 5).lineTo(flow.left + bar, flow.y + 5);
  pdf.moveTo(flow.left + bar, flow.y + 2).lineTo(flow.left + bar, flow.y + 8).lineWidth(0.8).strokeColor(INK).stroke();
  setText(flow, `50 mm, scale 1 : ${ratio}`, flow.left + bar + 6, flow.y, flow.width - bar - 6, { size: 8 });
  flow.y += 15;
  const letters = new Map(content.drawings.flatMap((d) => d.tapes.map((t) => [t.letter, t.label] as const)));
  if (letters.size > 0) {
    const tapes = [...letters].sort(([a], [b]) => (a < b ? -1 : 1)).map(([letter, label]) => `${letter} ${label}`).join('    ');
    paragraph(flow, tapes, { size: 8 });
  }
  paragraph(flow, content.drawingNote, { size: 7.5, colour: SOFT });
}
