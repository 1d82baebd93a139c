import { changeColour } from './change-colours.js';
import type { SheetLine, SheetMapView } from '../measurement/content.js';
import { BOLD, INK, setText } from './flow.js';
import type { Flow } from './flow.js';
import { freeSpot } from '../measurement/mark-badges.js';
import type { Spot } from '../measurement/mark-badges.js';
import { onPage, trace } from './placed.js';
import type { Placed } from './placed.js';

/** Where the colours end, mm. */
const RANGE = 12;
/** Distance between hatch lines by how far the change goes, points: the further, the closer. */
const SPACINGS = [5, 3.6, 2.4, 1.6];

/** From middle to middle of a number and what stands beside it, points. */
const ROOM: Spot = { x: 27, y: 13 };

const css = (beyond: number): string => `rgb(${changeColour(Math.sign(beyond) * Math.min(RANGE, 2 + Math.abs(beyond)), RANGE).join(',')})`;

/** Fills areas where the last lies `beyond` mm out (hatched /) or in (hatched \) of the cast. Only with a path laid by `path`. */
function fillArea(flow: Flow, path: () => void, box: { x: number; y: number; width: number; height: number }, beyond: number, step: number): void {
  const { pdf } = flow;
  path();
  pdf.fillColor(hex(css(beyond))).fillOpacity(0.75).fill('even-odd').fillOpacity(1);
  pdf.save();
  path();
  pdf.clip('even-odd');
  const spacing = SPACINGS[Math.min(step, SPACINGS.length - 1)] * Math.SQRT2;
  const reach = box.height;
  for (let at = box.x - reach; at < box.x + box.width + reach; at += spacing) {
    if (beyond > 0) pdf.moveTo(at, box.y + box.height).lineTo(at + reach, box.y);
    else pdf.moveTo(at, box.y).lineTo(at + reach, box.y + box.height);
  }
  pdf.lineWidth(0.45).strokeColor(INK).stroke();
  pdf.restore();
}

const hex = (rgb: string): string => `#${(rgb.match(/\d+/g) ?? []).map((c) => Number(c).toString(16).padStart(2, '0')).join('')}`;

/** The changes of one view. */
export function drawChangeAreas(flow: Flow, placed: Placed, changes: SheetMapView['changes']): void {
  const steps = { out: 0, in: 0 };
  for (const { beyond, areas } of changes) {
    const step = beyond > 0 ? steps.out++ : steps.in++;
    if (areas.length === 0) continue;
    fillArea(flow, () => areas.forEach((area: SheetLine) => trace(flow, placed, area)), { x: placed.x, y: placed.y - placed.height, width: placed.width, height: placed.height }, beyond, step);
  }
}

/** The most in each place as a signed number, clear of what is `taken`. */
export function drawPeaks(flow: Flow, placed: Placed, peaks: SheetMapView['peaks'], taken: readonly Spot[], signed: (value: number) => string): void {
  const all = [...taken];
  for (const { at, value } of peaks) {
    const [ownX, ownY] = onPage(placed, at[0], at[1]);
    const { x, y } = freeSpot({ x: ownX, y: ownY }, all, ROOM);
    all.push({ x, y });
    if (x !== ownX || y !== ownY) flow.pdf.moveTo(ownX, ownY).lineTo(x, y).lineWidth(0.5).strokeColor(INK).stroke();
    const text = signed(value);
    flow.pdf.font(BOLD).fontSize(8);
    const width = flow.pdf.widthOfString(text) + 4;
    const left = Math.min(Math.max(x - width / 2, placed.x), placed.x + placed.width - width);
    flow.pdf.roundedRect(left, y - 5.5, width, 11, 2).lineWidth(0.4).fillAndStroke('#ffffff', INK);
    setText(flow, text, left, y - 4, width + 1, { size: 8, font: BOLD, align: 'center' });
  }
}

/** A swatch of one step for the legend. */
export function drawChangeSwatch(flow: Flow, x: number, y: number, beyond: number, step: number): void {
  const box = { x, y, width: 26, height: 13 };
  fillArea(flow, () => flow.pdf.rect(box.x, box.y, box.width, box.height), box, beyond, step);
  flow.pdf.rect(box.x, box.y, box.width, box.height).lineWidth(0.4).strokeColor(INK).stroke();
}
