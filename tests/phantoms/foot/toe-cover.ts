import type { Field } from '../surface/implicit.js';

/** Bandage over the toes, in the space that a foot is drawn in (270 mm long, straight, flat). */
export interface ToeCover {
  readonly bandage: Field;
  /** How widely bandage and foot melt together, mm. */
  readonly melt: number;
  /** How much higher the sole stands than the bare foot's, mm. */
  readonly soleRise: (x: number, y: number) => number;
}
