import type { SheetTape } from './content.js';
import { BOLD, TAPE, setText } from '../paper/flow.js';
import type { Flow } from '../paper/flow.js';
import type { Placed } from '../paper/placed.js';
import { onPage, trace } from '../paper/placed.js';

const RADIUS = 6.5;
const SPACING = 2 * RADIUS + 1.5;
/** Room that the letters take above the drawing. */
export const LETTERS = 2 * RADIUS + 8;

/** The tape lines of a drawing, each led to its letter in a row above the outline. */
export function drawTapes(flow: Flow, placed: Placed, tapes: readonly SheetTape[]): void {
  const { pdf } = flow;
  const ends: { letter: string; end: [number, number]; x: number }[] = [];
  for (const { letter, lines } of tapes) {
    if (lines.length === 0) continue;
    let end: [number, number] = [0, Infinity];
    for (const line of lines) {
      trace(flow, placed, line);
      for (let i = 0; i < line.points.length; i += 2) {
        const point = onPage(placed, line.points[i], line.points[i + 1]);
        if (point[1] < end[1]) end = point;
      }
    }
    pdf.lineWidth(0.8).strokeColor(TAPE).stroke();
    ends.push({ letter, end, x: end[0] });
  }
  if (ends.length === 0) return;
  spread(ends, placed.x + RADIUS, placed.x + Math.max(placed.width, ends.length * SPACING) - RADIUS);
  const y = placed.y - placed.height - RADIUS - 5;
  for (const { letter, end, x } of ends) {
    pdf.moveTo(end[0], end[1]).lineTo(x, y + RADIUS).lineWidth(0.5).dash(1.5, { space: 1.5 }).strokeColor(TAPE).stroke().undash();
    drawLetter(flow, letter, x, y);
  }
}

/** A tape's letter in its ring. */
export function drawLetter(flow: Flow, letter: string, x: number, y: number): void {
  flow.pdf.circle(x, y, RADIUS).lineWidth(0.8).fillAndStroke('#ffffff', TAPE);
  setText(flow, letter, x - RADIUS, y - 4.4, 2 * RADIUS, { size: 9, font: BOLD, colour: TAPE, align: 'center' });
}

/** Moves the letters apart along the row, keeping their order, and back between the ends of the row. */
function spread(ends: { x: number }[], from: number, to: number): void {
  ends.sort((a, b) => a.x - b.x);
  ends.forEach((e, i) => {
    e.x = Math.max(e.x, i === 0 ? from : ends[i - 1].x + SPACING);
  });
  for (let i = ends.length - 1; i >= 0; i--) {
    ends[i].x = Math.min(ends[i].x, i === ends.length - 1 ? to : ends[i + 1].x - SPACING);
  }
}
