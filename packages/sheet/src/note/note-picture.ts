import type { SheetLine } from '../measurement/content.js';
import { BAND, FAINT, INK, MARK, SOFT, TAPE, setText } from '../paper/flow.js';
import type { Flow } from '../paper/flow.js';
import type { NotePicture } from './note-content.js';

const TITLE = 10;
const RING = 7;
/** Between the drawing and its box, so that strokes and rings stay inside. */
const PAD = 3;
/** Width of the lines that show what was measured and wanted. */
export const LINE = 1.4;
export const WANTED_DASH = [3, 2] as const;

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Paper point of a point of the picture. */
interface Fitted {
  readonly at: (right: number, up: number) => [number, number];
}

/** How high the picture is, its title included, drawn as large as a box of this size allows; 0 where there is nothing to draw. */
export function notePictureHeight(picture: NotePicture, width: number, most: number): number {
  const extent = extentOf(picture);
  if (extent === null) return 0;
  const around = aroundOf(picture);
  return Math.min(most, TITLE + 2 * around + ((width - 2 * around) * (extent.high - extent.low)) / (extent.right - extent.left));
}

/** The picture as large as the box allows, its title underneath. */
export function drawNotePicture(flow: Flow, picture: NotePicture, box: Box): void {
  const { pdf } = flow;
  const fitted = fit(picture, box);
  if (fitted === null) return;
  path(flow, fitted, picture.outline);
  pdf.fill(BAND, 'even-odd');
  if (picture.patches.length > 0) {
    path(flow, fitted, picture.patches);
    pdf.fillOpacity(0.3).fill(TAPE, 'even-odd').fillOpacity(1);
  }
  path(flow, fitted, picture.contours);
  if (picture.contours.length > 0) pdf.lineWidth(0.35).strokeColor(FAINT).stroke();
  path(flow, fitted, picture.outline);
  pdf.lineWidth(0.9).lineJoin('round').strokeColor(INK).stroke();
  if (picture.measured.length > 0) {
    path(flow, fitted, picture.measured);
    pdf.lineWidth(LINE).lineCap('round').strokeColor(TAPE).stroke();
  }
  if (picture.wanted.length > 0) {
    path(flow, fitted, picture.wanted);
    pdf.lineWidth(LINE).lineCap('butt').dash(WANTED_DASH[0], { space: WANTED_DASH[1] }).strokeColor(MARK).stroke().undash();
  }
  for (const [right, up] of picture.places) {
    const [x, y] = fitted.at(right, up);
    pdf.circle(x, y, RING).lineWidth(1.2).strokeColor(TAPE).stroke();
  }
  setText(flow, picture.title, box.x, box.y + box.height - TITLE + 2, box.width, { size: 7, colour: SOFT, align: 'center' });
}

interface Extent {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

function extentOf(picture: NotePicture): Extent | null {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  const take = (x: number, y: number): void => {
    left = Math.min(left, x);
    right = Math.max(right, x);
    low = Math.min(low, y);
    high = Math.max(high, y);
  };
  for (const { points } of [...picture.outline, ...picture.patches, ...picture.measured, ...picture.wanted]) {
    for (let i = 0; i < points.length; i += 2) take(points[i], points[i + 1]);
  }
  for (const [x, y] of picture.places) take(x, y);
  return right > left && high > low ? { left, right, low, high } : null;
}

const aroundOf = ({ places }: NotePicture): number => (places.length > 0 ? RING + PAD : PAD);

/** The scale and place that keep every line of the picture inside its box; null where there is nothing to draw. */
function fit(picture: NotePicture, box: Box): Fitted | null {
  const extent = extentOf(picture);
  if (extent === null) return null;
  const { left, right, low, high } = extent;
  const around = aroundOf(picture);
  const [roomAcross, roomUp] = [box.width - 2 * around, box.height - TITLE - 2 * around];
  const scale = Math.min(roomAcross / (right - left), roomUp / (high - low));
  const x0 = box.x + around + (roomAcross - scale * (right - left)) / 2;
  const y0 = box.y + box.height - TITLE - around - (roomUp - scale * (high - low)) / 2;
  return { at: (r, u) => [x0 + scale * (r - left), y0 - scale * (u - low)] };
}

function path({ pdf }: Flow, { at }: Fitted, lines: readonly SheetLine[]): void {
  for (const { points, closed } of lines) {
    for (let i = 0; i < points.length; i += 2) {
      const [x, y] = at(points[i], points[i + 1]);
      if (i === 0) pdf.moveTo(x, y);
      else pdf.lineTo(x, y);
    }
    if (closed) pdf.closePath();
  }
}
