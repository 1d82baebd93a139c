import { smoothStep } from '../surface/implicit.js';
import type { Random } from '../random.js';
import { slowInSpace } from './slow.js';

/** A place where the wall is thin: from `rim` mm inwards it falls to `least` at half that distance from the centre. */
export interface ThinPatch {
  readonly centre: readonly [number, number, number];
  readonly rim: number;
  readonly least: number;
}

/** Thickness of the wall at a point of the skin, mm, along the normal there. */
export type Wall = (x: number, y: number, z: number) => number;

/** A wall of `nominal` mm that swings slowly by up to `swing` of it over 80 mm and more, with thin patches. */
export function drawWall(random: Random, nominal: number, swing: number, patches: readonly ThinPatch[] = []): Wall {
  const slow = slowInSpace(random, 120);
  return (x, y, z) => {
    let t = nominal * (1 + (swing > 0 ? swing * slow(x, y, z) : 0));
    for (const { centre, rim, least } of patches) {
      const d = Math.hypot(x - centre[0], y - centre[1], z - centre[2]);
      if (d < rim) t += (least - t) * (1 - smoothStep(0.5 * rim, rim, d));
    }
    return t;
  };
}
