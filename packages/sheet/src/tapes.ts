import type { Placed } from './placed.js';
import { onPage, trace } from './placed.js';
import { BOLD, TAPE, setText } from './flow.js';
import type { Flow } from './flow.js';

const RADIUS = 5;
const SPACING = 2 * RADIUS + 1.5;

/** The tape lines of a drawing, each led to its letter in a row above the outline. */
export function drawTapes(flow: Flow, placed: Placed): void {
  const { pdf } = flow;
  const ends: { letter: string; end: [number, number]; x: number }[] = [];
  for (const { letter, lines } of placed.drawing.tapes) {
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
  const y = placed.y - placed.height - RADIUS - 4;
  for (const { letter, end, x } of ends) {
    pdf.moveTo(end[0], end[1]).lineTo(x, y + RADIUS).lineWidth(0.4).dash(1.5, { space: 1.5 }).strokeColor(TAPE).stroke().undash();
    pdf.circle(x, y, RADIUS).lineWidth(0.6).fillAndStroke('#ffffff', TAPE);
    setText(flow, letter, x - RADIUS, y - 3.4, 2 * RADIUS, { size: 7, font: BOLD, colour: TAPE, align: 'center' });
  }
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
