import type { Placed } from './placed.js';
import { onPage } from './placed.js';
import { MARK, setText } from './flow.js';
import type { Flow } from './flow.js';

const SIZE = 5.5;
const HEIGHT = 6;

interface Box { readonly x: number; readonly y: number; readonly width: number }

const collides = (a: Box, b: Box): boolean => a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + HEIGHT && b.y < a.y + HEIGHT;

/** A dot at each mark, its id beside it where the other ids leave room. */
export function drawMarkDots(flow: Flow, placed: Placed): void {
  const { pdf } = flow;
  const taken: Box[] = [];
  for (const { id, at } of placed.drawing.marks) {
    const [x, y] = onPage(placed, at[0], at[1]);
    pdf.circle(x, y, 1.2).fill(MARK);
    pdf.fontSize(SIZE);
    const width = pdf.widthOfString(id) + 1;
    const around: Box[] = [
      { x: x + 2, y: y - 3, width }, { x: x - 2 - width, y: y - 3, width }, { x: x - width / 2, y: y - 8, width }, { x: x - width / 2, y: y + 2, width },
    ];
    const free = around.find((box) => !taken.some((other) => collides(box, other))) ?? around[0];
    taken.push(free);
    setText(flow, id, free.x, free.y, free.width + 4, { size: SIZE, colour: MARK });
  }
}
