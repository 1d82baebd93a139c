import type { SheetDrawing, SheetLine } from './content.js';
import type { Flow } from './flow.js';

/** Where a drawing of the cast lies on the page: paper point of its lower left corner, and points for one mm. */
export interface Placed {
  readonly drawing: SheetDrawing;
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
