import type { SheetDecision, SheetMapView } from './content.js';
import { BOLD, INK, MARK, setText } from '../paper/flow.js';
import type { Flow } from '../paper/flow.js';
import { onPage, trace } from '../paper/placed.js';
import type { Placed } from '../paper/placed.js';

const HALF = 5;

/** What becomes of a mark shows in the form of its badge, its filling and its colour alike. */
export function drawBadge(flow: Flow, decision: SheetDecision, label: string, x: number, y: number): void {
  const { pdf } = flow;
  const wide = label.length > 1 ? HALF + 1.5 : HALF;
  pdf.lineWidth(0.9);
  if (decision === 'smooth') pdf.roundedRect(x - wide, y - HALF, 2 * wide, 2 * HALF, HALF).fillAndStroke('#ffffff', MARK);
  else if (decision === 'keep') pdf.rect(x - wide, y - HALF, 2 * wide, 2 * HALF).fillAndStroke('#ffffff', INK);
  else pdf.polygon([x, y - HALF - 3.5], [x + wide + 3.5, y], [x, y + HALF + 3.5], [x - wide - 3.5, y]).fillAndStroke(INK, INK);
  const colour = decision === 'ask' ? '#ffffff' : decision === 'keep' ? INK : MARK;
  setText(flow, label, x - wide, y - 3.4, 2 * wide, { size: 7, font: BOLD, colour, align: 'center' });
}

/** How a mark's outline is drawn: the kinds of line differ as the badges do. */
function strokeAreas(flow: Flow, decision: SheetDecision): void {
  const { pdf } = flow;
  if (decision === 'smooth') pdf.lineWidth(0.7).strokeColor(MARK).stroke();
  else if (decision === 'keep') pdf.lineWidth(0.7).dash(2, { space: 1.5 }).strokeColor(INK).stroke().undash();
  else pdf.lineWidth(1.4).strokeColor(INK).stroke();
}

/** A place on the page that something small already stands on: its middle. */
export interface Spot { readonly x: number; readonly y: number }

/** The marks of one view: their outlines, and a numbered badge to each where the others leave room. Gives the places of the badges. */
export function drawMarks(flow: Flow, placed: Placed, marks: SheetMapView['marks']): Spot[] {
  const { pdf } = flow;
  const taken: Spot[] = [];
  for (const { areas, decision } of marks) {
    if (areas.length === 0) continue;
    for (const area of areas) trace(flow, placed, area);
    strokeAreas(flow, decision);
  }
  const badges = marks.map((mark) => {
    const [x, y] = onPage(placed, mark.at[0], mark.at[1]);
    const spot = freeSpot({ x, y }, taken);
    taken.push(spot);
    return { mark, x, y, spot };
  });
  for (const { x, y, spot } of badges) if (spot.x !== x || spot.y !== y) pdf.moveTo(x, y).lineTo(spot.x, spot.y).lineWidth(0.5).strokeColor(INK).stroke();
  for (const { x, y, spot } of badges) if (spot.x !== x || spot.y !== y) pdf.circle(x, y, 1.2).fill(INK);
  for (const { mark, spot } of badges) drawBadge(flow, mark.decision, String(mark.number), spot.x, spot.y);
  return taken;
}

const ROOM = { x: 17, y: 14 } as const;
const RINGS = 6;
const RING_STEP = 11;

/** The place itself or the nearest of rings round it that keeps its distance from what is taken; the place where there is none. */
export function freeSpot(at: Spot, taken: readonly Spot[], room: Spot = ROOM): Spot {
  const free = (spot: Spot): boolean => taken.every((t) => Math.abs(t.x - spot.x) >= room.x || Math.abs(t.y - spot.y) >= room.y);
  if (free(at)) return at;
  for (let ring = 1; ring <= RINGS; ring++) {
    for (let k = 0; k < 8 + 4 * ring; k++) {
      const angle = (k / (8 + 4 * ring)) * 2 * Math.PI;
      const spot = { x: at.x + RING_STEP * ring * Math.cos(angle), y: at.y + RING_STEP * ring * Math.sin(angle) };
      if (free(spot)) return spot;
    }
  }
  return at;
}
