import { describe, expect, it } from 'vitest';
import { partSlit } from '@cast-to-last/geometry/repair/part-slit';

type Point = readonly [number, number, number];

/** Points along straight lines through the corners, about `step` apart, the last corner joined to the first. */
function loopThrough(corners: readonly Point[], step: number): Float64Array {
  return Float64Array.from(corners.flatMap((a, i) => {
    const b = corners[(i + 1) % corners.length];
    const count = Math.max(1, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / step));
    return Array.from({ length: count }, (_, s) => a.map((c, k) => c + ((b[k] - c) * s) / count)).flat();
  }));
}

/** A circle of radius 45 mm at z = 0 with a slit down to z = −depth at its front, `width` wide at the mouth and `tip` at its end. */
function rimWithSlit(width: number, depth: number, tip = width): Float64Array {
  const half = Math.asin(width / 2 / 45);
  const rim = Array.from({ length: 60 }, (_, i): Point => {
    const a = half + ((2 * Math.PI - 2 * half) * i) / 59;
    return [45 * Math.cos(a), 45 * Math.sin(a), 0];
  });
  return loopThrough([...rim, [45, -tip / 2, -depth], [45, tip / 2, -depth]], 2);
}

const indices = (positions: Float64Array): Uint32Array => Uint32Array.from({ length: positions.length / 3 }, (_, i) => i);
const heights = (positions: Float64Array, loop: Uint32Array): number[] => Array.from(loop, (v) => positions[3 * v + 2]);

describe('partSlit', () => {
  it.each([[1, 60], [3, 120], [6, 90], [12, 120]])('parts a slit %i mm wide and %i mm deep from a round opening', (width, depth) => {
    const positions = rimWithSlit(width, depth);
    const parted = partSlit(positions, indices(positions));
    if (parted === null) throw new Error('no slit');
    expect(Math.min(...heights(positions, parted.slit))).toBeCloseTo(-depth, 6);
    expect(Math.min(...heights(positions, parted.rest))).toBeGreaterThan(-5);
    expect(parted.slit.length + parted.rest.length).toBe(positions.length / 3 + 2);
    expect([parted.rest[0], parted.rest.at(-1)]).toEqual([parted.slit.at(-1), parted.slit[0]]);
  });

  it('parts one that runs out to nothing', () => {
    const positions = rimWithSlit(5, 110, 0.2);
    const parted = partSlit(positions, indices(positions));
    expect(parted && Math.min(...heights(positions, parted.rest))).toBeGreaterThan(-8);
  });

  it.each([
    ['a round opening', rimWithSlit(2, 0.1)],
    ['a short notch', rimWithSlit(6, 25)],
    ['a wide one', rimWithSlit(24, 120)],
    ['a long oval', loopThrough(Array.from({ length: 80 }, (_, i): Point => [70 * Math.cos((i * Math.PI) / 40), 22 * Math.sin((i * Math.PI) / 40), 0]), 2)],
    ['a hole that is nothing but a slit', loopThrough([[0, 0, 0], [120, 0, 0], [120, 4, 0], [0, 4, 0]], 2)],
  ])('leaves %s whole', (_name, positions) => {
    expect(partSlit(positions, indices(positions))).toBeNull();
  });
});
