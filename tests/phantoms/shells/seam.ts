import { smoothStep } from '../surface/implicit.js';
import type { Random } from '../random.js';
import { slowAlong } from './slow.js';

/** Height over the skin at `across` mm from the cut (medial positive) and `along` mm of the spine. */
export type Seam = (across: number, along: number) => number;

/**
 * The ordinary seam of a cut that was closed neatly: ridge, groove and a slight step in shares that change along it, 2 to
 * 6 mm wide and 0.2 to 1.5 mm high.
 */
export function drawSeam(random: Random, start: number): Seam {
  const width = random.between(2, 6);
  const size = random.between(0.2, 1.5) * Math.min(1, width / 3);
  const [mix, lean, swell] = [slowAlong(random, 90), slowAlong(random, 90), slowAlong(random, 40)];
  const bias = random.between(-0.4, 1.4);
  const half = width / 2 / 0.795;
  return (across, along) => {
    const u = across / half;
    if (Math.abs(u) >= 2) return 0;
    const ridge = Math.abs(u) >= 1 ? 0 : 0.5 * (1 + Math.cos(Math.PI * u));
    const step = 1.3 * u * (1 - (u * u) / 4) ** 3;
    const shape = Math.tanh(bias + 1.2 * mix(along)) * ridge + 0.3 * Math.tanh(2 * lean(along)) * step;
    return size * (0.75 + 0.25 * swell(along)) * shape * smoothStep(start - 6, start + 4, along);
  };
}
