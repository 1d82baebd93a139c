import { describe, expect, it } from 'vitest';
import { partBays } from '@cast-to-last/geometry/offset/part-bays';

/** A round rim of 45 mm radius at z = 0 with a bay `wide` mm across its mouth that runs `deep` mm down; the bay's shore is new. */
function rimWithBay(wide: number, deep: number): { positions: Float64Array; loop: Uint32Array; isOld: (v: number) => boolean } {
  const half = Math.asin(wide / 90);
  const rim = Array.from({ length: 90 }, (_, i) => half + ((2 * Math.PI - 2 * half) * i) / 89).map((a) => [45 * Math.cos(a), 45 * Math.sin(a), 0]);
  const down = Array.from({ length: Math.round(deep / 2) }, (_, i) => [45, -wide / 2, -2 * (i + 1)]);
  const points = [...rim, ...down, ...down.toReversed().map(([x, y, z]) => [x, -y, z])];
  return { positions: Float64Array.from(points.flat()), loop: Uint32Array.from(points.keys()), isOld: (v) => v < 90 };
}

describe('partBays', () => {
  it.each([[4, 60], [30, 120]])('parts a bay %i mm across its mouth and %i mm deep, wherever the loop begins', (wide, deep) => {
    const { positions, loop, isOld } = rimWithBay(wide, deep);
    for (const shift of [0, 40, 95]) {
      const turned = loop.map((_, i) => loop[(i + shift) % loop.length]);
      const [rest, ...bays] = partBays(positions, turned, isOld);
      expect(Array.from(rest).sort((a, b) => a - b)).toEqual(Array.from({ length: 90 }, (_, v) => v));
      expect(bays).toHaveLength(1);
      expect([bays[0][0], bays[0].at(-1)]).toEqual([89, 0]);
      expect(bays[0].length).toBe(2 + 2 * Math.round(deep / 2));
    }
  });

  it('leaves shallow ones, wide ones and a rim that is all new as they are', () => {
    for (const [wide, deep] of [[6, 20], [60, 40]]) {
      const { positions, loop, isOld } = rimWithBay(wide, deep);
      const parted = partBays(positions, loop, isOld);
      expect(parted).toHaveLength(1);
      expect(Array.from(parted[0]).sort((a, b) => a - b)).toEqual(Array.from(loop));
    }
    const { positions, loop } = rimWithBay(4, 60);
    expect(partBays(positions, loop, () => false)).toEqual([loop]);
  });
});
