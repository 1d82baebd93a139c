import type { SheetLine } from '../measurement/content.js';
import type { Flow } from './flow.js';

/** Where a drawing of the cast lies on the page: paper point of its lower left corner, and points for one mm. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly minRight: number;
  readonly minUp: number;
  readonly scale: number;
}

/** The path of a line on the page. */
export function trace(flow: Flow, placed: Placed, { points, closed }: SheetLine): void {
  for (let i = 0; i < points.length; i += 2) {
    const [x, y] = onPage(placed, points[i], points[i + 1]);
    if (i === 0) flow.pdf.moveTo(x, y);
    else flow.pdf.lineTo(x, y);
  }
  if (closed) flow.pdf.closePath();
}

export const onPage = (p: Placed, right: number, up: number): [number, number] => [p.x + (right - p.minRight) * p.scale, p.y - (up - p.minUp) * p.scale];

/** What lines cover, mm; nothing for no lines. */
export interface Extent {
  readonly minRight: number;
  readonly minUp: number;
  readonly width: number;
  readonly height: number;
}

export function extentOf(lines: readonly SheetLine[], ...more: readonly (readonly [number, number])[]): Extent {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  const take = (x: number, y: number): void => {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < low) low = y;
    if (y > high) high = y;
  };
  for (const { points } of lines) for (let i = 0; i < points.length; i += 2) take(points[i], points[i + 1]);
  for (const [x, y] of more) take(x, y);
  return Number.isFinite(right - left) ? { minRight: left, minUp: low, width: right - left, height: high - low } : { minRight: 0, minUp: 0, width: 0, height: 0 };
}

/** An extent on the page with its lower left corner at x, y. */
export const place = (e: Extent, x: number, y: number, scale: number): Placed => ({ x, y, scale, minRight: e.minRight, minUp: e.minUp, width: e.width * scale, height: e.height * scale });
