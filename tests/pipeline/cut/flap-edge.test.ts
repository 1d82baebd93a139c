import { describe, expect, it } from 'vitest';
import type { CutStation } from '@cast-to-last/pipeline/cut/cut-course';
import { FLAP_EDGE, flapEdge } from '@cast-to-last/pipeline/cut/flap-edge';
import type { TopMap } from '@cast-to-last/pipeline/cut/top-map';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const middle = (ACROSS - 1) / 2;
const wander = (s: number): number => 3 * Math.sin(s / 14);

/** A course straight up the middle of a map, whatever runs there. */
const straightUp = (map: TopMap): CutStation[] => Array.from({ length: map.stations }, (_, station) => ({ station, sample: middle, shape: 'step', gain: 10 }));
/** Where the edge of a flap of some height is found at each station, mm from the middle. */
const found = (map: TopMap, height: number): number[] =>
  flapEdge(map, straightUp(map), straightUp(map).map(() => height)).map((sample) => (sample - middle) * TOP_MAP.step);

/** The +y flap stands this much higher, by a straight face from −half to half mm. */
const slope = (height: number, half: number) => (u: number): number => height * Math.max(0, Math.min(1, (u + half) / (2 * half))) * (u > half ? Math.exp((half - u) / 25) : 1);

describe('edge of a flap that rides', () => {
  it.each([[1, -8], [2, 9]])('is found though the course runs beside it (seed %i, %f mm)', (seed, aside) => {
    const random = rng(seed);
    const map = cutMap({ add: (s, u) => flap(4)(u - wander(s) - aside) + 0.06 * random.normal() });
    found(map, 4).forEach((at, s) => expect(Math.abs(at - wander(s) - aside)).toBeLessThanOrEqual(1));
  });

  it.each([[4, 4], [5, 6], [6, 8]])('is the middle of its face, however high that is (seed %i, %f mm)', (seed, height) => {
    const random = rng(seed);
    const map = cutMap({ add: (s, u) => slope(height, height / 2)(u - wander(s) - 3) + 0.06 * random.normal() });
    found(map, height).forEach((at, s) => expect(Math.abs(at - wander(s) - 3)).toBeLessThanOrEqual(1));
  });

  it('is the one that falls the way the flap stands, though the other way a higher one does beside it (seed 7)', () => {
    const random = rng(7);
    for (const side of [1, -1]) {
      const map = cutMap({ add: (_, u) => slope(3, 1.5)(side * u + 5) + slope(4, 2)(5 - side * u) + 0.06 * random.normal() });
      for (const at of found(map, side * 3)) expect(Math.abs(at + side * 5)).toBeLessThanOrEqual(1);
    }
  });

  it('never lies farther from the course than it is sought (seed 3)', () => {
    const random = rng(3);
    const map = cutMap({ add: (_, u) => flap(4)(u - 20) + 0.06 * random.normal() });
    for (const at of found(map, 4)) expect(Math.abs(at)).toBeLessThanOrEqual(FLAP_EDGE.within * TOP_MAP.step);
  });
});
