import { smoothStep } from '../surface/implicit.js';
import type { FootParameters } from './foot-parameters.js';

/** Over which width the sole passes into the sides at `x` of the drawn foot: less under the toes, which are thin. */
export const roundingAt = (p: FootParameters, x: number): number => p.soleRounding + (Math.min(9, p.soleRounding) - p.soleRounding) * smoothStep(178, 214, x);
