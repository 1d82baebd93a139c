import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { projectWithin } from '../surface/densify.js';
import type { Field } from '../surface/implicit.js';
import { meshField } from '../surface/mesh-field.js';
import { outermost } from '../reference/outermost.js';

/** x of the foremost point of `bare`, whose zero set is a foot in the foot frame of `landmarks`, mm. */
export function toeEndOf(bare: Field, { footLength, medialBall, lateralBall }: Landmarks): number {
  const box = Float64Array.from([medialBall[0], lateralBall[1] - 15, -15, footLength + 15, medialBall[1] + 15, 0.4 * footLength]);
  const { positions: p } = meshField(bare, box, 4);
  projectWithin(bare, p, 2, 20);
  let tip = 0;
  for (let i = 0; i < p.length; i += 3) if (p[i] > p[tip]) tip = i;
  // The search goes along the second axis: x and y change places.
  const found = outermost((a, b, c) => bare(b, a, c), [p[tip + 1], p[tip], p[tip + 2]], 1, box[1], box[4]);
  return found[1];
}
