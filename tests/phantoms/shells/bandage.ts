import type { Random } from '../random.js';
import { bandageWeave, type Texture } from '../scan/weave.js';
import { slowInSpace } from './slow.js';
import type { BySpine, Spine } from './spine.js';

/**
 * The outside of a shell: the weave, and turns of bandage laid over each other like shingles 25 to 60 mm apart, each turn's
 * edge a step of up to `edge` mm that falls off evenly to the next; on the whole neither higher nor lower than the wall.
 */
export function bandageOutside(random: Random, spine: Spine, weave: number, edge: number): Texture {
  const woven = bandageWeave(random.fork('weave'), weave, 0);
  const pitch = random.between(25, 60);
  const tilt = random.between(-0.5, 0.5);
  const wander = slowInSpace(random.fork('turns'), 90);
  const phase = random.next();
  const way = random.pick([1, -1]);
  const by: BySpine = { along: 0, off: 0 };
  return (x, y, z) => {
    let h = woven(x, y, z);
    if (edge > 0) {
      spine.locate(x, z, by);
      const turn = (way * (by.along + tilt * y + 6 * wander(x, y, z))) / pitch + phase;
      const share = turn - Math.floor(turn);
      // The edge itself rises over 1.5 mm.
      const rise = 1.5 / pitch;
      h += edge * (share < rise ? share / rise - 0.5 : 0.5 - (share - rise) / (1 - rise));
    }
    return h;
  };
}
