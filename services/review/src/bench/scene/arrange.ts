import type { FootStand } from './foot-stand.js';
import type { Look } from './stage.js';

/** Between two feet, mm. */
const GAP = 26;
/** At both edges of a wide canvas stand lists: the feet keep clear of them; in letters of the page. */
const EDGES = 7.4;
const WIDE = 39;

/** Half of what the feet take of the screen's height, mm, beside each other and one above the other, and how far each then lies from the middle, to the side and up. */
export function arrange(stands: readonly FootStand[], look: Look, { width, height, letter }: { readonly width: number; readonly height: number; readonly letter: number }): { readonly beside: number; readonly stacked: number; readonly apart: readonly [number, number] } {
  const reaches = stands.map((stand) => reach(stand, look));
  const widest = Math.max(1, ...reaches.map(([w]) => w));
  const tallest = Math.max(1, ...reaches.map(([, h]) => h));
  const [x, y] = reaches.length > 1 ? [widest + GAP / 2, tallest + GAP / 2] : [0, 0];
  const clear = (width - (width > WIDE * letter ? 2 * EDGES * letter : 0)) / height;
  return { beside: Math.max(tallest, (x + widest) / clear), stacked: Math.max(y + tallest, widest / clear), apart: [x, y] };
}

/** Half of what one foot takes of the screen's width, and of its height, mm. A foot fills its box as an oval does. */
function reach({ size: { length, half, height } }: FootStand, { turn, rise }: Look): readonly [number, number] {
  const [s, c] = [Math.sin(turn), Math.cos(turn)];
  const depth = Math.hypot((length / 2) * c, half * s);
  return [1.04 * Math.hypot((length / 2) * s, half * c), (height / 2) * Math.cos(rise) + depth * Math.abs(Math.sin(rise))];
}
