import type { Side } from './foot-stand.js';
import type { Stage } from './stage.js';

/** What is done with the pointer beside turning, shifting and coming nearer. */
export interface Tools {
  /** A short press without movement, canvas pixels. */
  press(side: Side, x: number, y: number): void;
  /** The pointer is over a foot without being pressed. */
  hover(side: Side, x: number, y: number): void;
  /** Whether pressed movement draws instead of turning. */
  draws(): boolean;
  stroke(side: Side, x: number, y: number, phase: 'begin' | 'on' | 'end'): void;
}

const RADIANS_PER_PIXEL = 0.008;
const PRESS_PIXELS = 5;

/** Ties pointer, wheel and touch to the stage: one pointer turns, with Shift or the other button it shifts; wheel and two fingers come nearer. Gives how to end that. */
export function handle(canvas: HTMLCanvasElement, stage: Stage, tools: Tools): () => void {
  const held = new Map<number, { x: number; y: number }>();
  let travelled = 0;
  let drawing = false;
  const at = (event: PointerEvent | WheelEvent): { x: number; y: number } => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const shiftBy = (dx: number, dy: number): void => {
    const { shift } = stage.look;
    const mm = stage.mmPerPixel;
    stage.turnTo({ shift: [shift[0] - dx * mm, shift[1] + dy * mm] }, true);
  };
  const nearer = (factor: number, x: number, y: number): void => {
    const { near, shift } = stage.look;
    const to = Math.max(0.4, Math.min(30, near * factor));
    const mm = stage.mmPerPixel * (1 - near / to);
    const [dx, dy] = [x - canvas.clientWidth / 2, canvas.clientHeight / 2 - y];
    stage.turnTo({ near: to, shift: [shift[0] + dx * mm, shift[1] + dy * mm] }, true);
  };

  const down = (event: PointerEvent): void => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, at(event));
    travelled = 0;
    const side = stage.sideAt(at(event).x, at(event).y);
    if (held.size === 1 && event.button === 0 && !event.shiftKey && tools.draws() && side !== null) {
      drawing = true;
      tools.stroke(side, at(event).x, at(event).y, 'begin');
    }
  };
  const move = (event: PointerEvent): void => {
    const now = at(event);
    const side = stage.sideAt(now.x, now.y);
    const before = held.get(event.pointerId);
    if (before === undefined) {
      if (side !== null) tools.hover(side, now.x, now.y);
      return;
    }
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    travelled += Math.hypot(dx, dy);
    if (drawing) {
      if (side !== null) tools.stroke(side, now.x, now.y, 'on');
    } else if (held.size === 2) {
      const other = [...held].find(([id]) => id !== event.pointerId)?.[1] as { x: number; y: number };
      const factor = Math.hypot(now.x - other.x, now.y - other.y) / Math.max(1, Math.hypot(before.x - other.x, before.y - other.y));
      nearer(factor, (now.x + other.x) / 2, (now.y + other.y) / 2);
      shiftBy(dx / 2, dy / 2);
    } else if (travelled > PRESS_PIXELS) {
      if (event.shiftKey || (event.buttons & 6) !== 0) shiftBy(dx, dy);
      else {
        // The foot under the pointer follows it; the other is its mirror image.
        const way = side === 'right' ? -1 : 1;
        stage.turnTo({ turn: stage.look.turn + way * dx * RADIANS_PER_PIXEL, rise: stage.look.rise + dy * RADIANS_PER_PIXEL }, true);
      }
    }
    held.set(event.pointerId, now);
  };
  const up = (event: PointerEvent): void => {
    const was = held.get(event.pointerId);
    held.delete(event.pointerId);
    if (was === undefined) return;
    const side = stage.sideAt(was.x, was.y);
    if (drawing) {
      drawing = false;
      if (side !== null) tools.stroke(side, was.x, was.y, 'end');
    } else if (travelled <= PRESS_PIXELS && event.button === 0 && side !== null) tools.press(side, was.x, was.y);
  };
  const wheel = (event: WheelEvent): void => {
    event.preventDefault();
    nearer(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0016)), at(event).x, at(event).y);
  };
  const noMenu = (event: Event): void => event.preventDefault();

  canvas.addEventListener('pointerdown', down);
  canvas.addEventListener('pointermove', move);
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  canvas.addEventListener('wheel', wheel, { passive: false });
  canvas.addEventListener('contextmenu', noMenu);
  return () => {
    canvas.removeEventListener('pointerdown', down);
    canvas.removeEventListener('pointermove', move);
    canvas.removeEventListener('pointerup', up);
    canvas.removeEventListener('pointercancel', up);
    canvas.removeEventListener('wheel', wheel);
    canvas.removeEventListener('contextmenu', noMenu);
  };
}
