import type { Side } from '../../server/results.js';
import type { Stage } from '../scene/stage.js';
import type { BenchWork } from './bench-work.js';

interface Pin {
  readonly key: string;
  readonly side: Side;
  readonly at: readonly [number, number, number];
}

/** Keeps in mind which pins the bodies that are shown hide from the viewer. The thread is asked while the view changes, one question at a time. */
export class HiddenPins {
  private readonly work: BenchWork;
  private readonly stage: Stage;
  private readonly pins: readonly Pin[];
  private readonly known = new Map<string, boolean>();
  private asked = '';
  private busy = false;

  constructor(work: BenchWork, stage: Stage, pins: readonly Pin[]) {
    this.work = work;
    this.stage = stage;
    this.pins = pins;
  }

  /** Null as long as nothing is known of it. */
  hides = (key: string): boolean | null => this.known.get(key) ?? null;

  /** After each frame. */
  look = (): void => {
    const { work, stage } = this;
    const { body } = work.display.peek();
    const views = [...new Set(this.pins.map(({ side }) => side))].flatMap((side) => {
      const [from, key] = [stage.sight.eye(side), `${side}:${body}`];
      return from !== null && work.full.peek().has(key) ? [{ side, key, from }] : [];
    });
    const now = views.map(({ side, key, from }) => `${key} ${from.map((c) => c.toFixed(1)).join()} ${work.bodies.peek()[side]}`).join(' ');
    if (this.busy || now === this.asked || views.length === 0) return;
    this.asked = now;
    this.busy = true;
    Promise.all(views.map(async ({ side, key, from }) => {
      const pins = this.pins.filter((pin) => pin.side === side);
      const hidden = await work.thread.ask('hiddenFrom', { body: key, from, points: Float32Array.from(pins.flatMap(({ at }) => at)) });
      pins.forEach((pin, i) => hidden !== null && this.known.set(pin.key, hidden[i] === 1));
    })).catch(() => undefined).then(() => {
      this.busy = false;
      stage.layOver();
    });
  };
}
