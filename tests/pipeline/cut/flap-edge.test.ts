import { describe, expect, it } from 'vitest';
import { evidenceMap } from '@cast-to-last/pipeline/cut/cut-course';
import { FLAP_EDGE, flapEdge } from '@cast-to-last/pipeline/cut/flap-edge';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const middle = (ACROSS - 1) / 2;
const wander = (s: number): number => 3 * Math.sin(s / 14);

describe('edge of a flap that rides', () => {
  it.each([[1, -8], [2, 9]])('is found though the course runs beside it (seed %i, %f mm)', (seed, aside) => {
    const random = rng(seed);
    const map = cutMap({ add: (s, u) => flap(4)(u - wander(s) - aside) + 0.06 * random.normal() });
    const course = Array.from({ length: map.stations }, (_, station) => ({ station, sample: middle, shape: 'step' as const, gain: 10 }));
    flapEdge(evidenceMap(map), course).forEach((sample, s) => expect(Math.abs((sample - middle) * TOP_MAP.step - wander(s) - aside)).toBeLessThanOrEqual(1));
  });

  it('never lies farther from the course than it is sought (seed 3)', () => {
    const random = rng(3);
    const map = cutMap({ add: (_, u) => flap(4)(u - 20) + 0.06 * random.normal() });
    const course = Array.from({ length: map.stations }, (_, station) => ({ station, sample: middle, shape: 'step' as const, gain: 10 }));
    for (const sample of flapEdge(evidenceMap(map), course)) expect(Math.abs(sample - middle)).toBeLessThanOrEqual(FLAP_EDGE.within);
  });
});
