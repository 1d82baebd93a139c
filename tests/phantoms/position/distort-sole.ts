import { smoothStep } from '../surface/implicit.js';
import type { Random } from '../random.js';
import type { SoleError } from './position.js';

/** How much higher the sole stands than the plates, for a size of 1 mm, at a point of the foot's frame. */
export type SoleShape = (x: number, y: number) => number;

/** The form of a sole that was not pressed flat. `length`: of the foot, mm. */
export function soleShape(kind: SoleError['kind'], length: number, random: Random): SoleShape {
  if (kind === 'hammocked') {
    const half = 0.16 * length;
    return (x, y) => {
      const narrow = 1.35 - 0.35 * smoothStep(0.25 * length, 0.6 * length, x);
      const u = (narrow * (y - 0.01 * length)) / half;
      return u * u;
    };
  }
  if (kind === 'rocking') {
    const [middle, half] = [random.between(0.3, 0.4) * length, 0.33 * length];
    return (x) => {
      // A parabola that goes on straight where the front plate begins.
      const u = (x - middle) / half;
      return u < 1 ? u * u : 2 * u - 1;
    };
  }
  const waves = [0, 1, 2].map(() => {
    const turn = random.between(0, Math.PI);
    const pitch = (2 * Math.PI) / random.between(45, 80);
    return { kx: pitch * Math.cos(turn), ky: pitch * Math.sin(turn), phase: random.between(0, 2 * Math.PI) };
  });
  return (x, y) => waves.reduce((sum, w) => sum + Math.sin(w.kx * x + w.ky * y + w.phase), 0) / Math.sqrt(1.5);
}
