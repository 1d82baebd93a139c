import { describe, expect, it } from 'vitest';
import { CLOSING_ERROR } from '@cast-to-last/pipeline/cut/closing-error';
import { gapCourse } from '@cast-to-last/pipeline/cut/gap-course';
import { gapEdges } from '@cast-to-last/pipeline/cut/gap-edges';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const STATIONS = 90;
const middle = (ACROSS - 1) / 2;
const wander = (s: number): number => 3 * Math.sin(s / 14);

/** A gap with broad round lips and a bulging strip between them. */
const roundGap = (width: number, low: number, high: number, bulge: number) => (u: number): number => {
  const share = u / width + 0.5;
  if (share <= 0) return low * Math.exp(-(((u + width / 2) / 3) ** 2));
  if (share >= 1) return high * Math.exp(-(((u - width / 2) / 3) ** 2));
  return low + share * (high - low) + 4 * bulge * share * (1 - share);
};

/** A map with a line along its top, and a course that follows a place beside it, mm. */
function along(seed: number, line: (s: number, u: number) => number, beside: number) {
  const random = rng(seed);
  const map = cutMap({ stations: STATIONS, add: (s, u) => line(s, u - wander(s)) + 0.06 * random.normal() });
  const course = Array.from({ length: STATIONS }, (_, station) => ({ station, sample: middle + Math.round((wander(station) + beside) / TOP_MAP.step), shape: 'seam' as const, gain: 10 }));
  return { map, course };
}

describe('a gap that shows along its whole course', () => {
  it.each([[1, 13, -0.8, 0.5], [2, 14, 0.9, -0.6], [3, 11, -0.7, -0.5]])('is found from either edge, and its edges are (seed %i, %f mm, lips of %f and %f mm)', (seed, width, low, high) => {
    for (const edge of [-1, 1]) {
      const { map, course } = along(seed, (s, u) => (s < 10 ? seam(0.6)(u) : roundGap(width, low, high, 0.7)(u)), (edge * width) / 2);
      const places = gapCourse(map, course);
      if (places === null) throw new Error('no gap seen');
      const found = gapEdges(map, course, places).filter(({ index }) => index >= 16 && index < 84);
      expect(found.length).toBeGreaterThan(25);
      const near = found.filter((place) => Math.abs((place.high - place.low) * TOP_MAP.step - width) <= CLOSING_ERROR.gap);
      expect(near.length).toBeGreaterThanOrEqual(0.9 * found.length);
      for (const place of found) expect(Math.abs(((place.low + place.high) / 2 - middle) * TOP_MAP.step - wander(place.index))).toBeLessThan(2);
    }
  });

  it.each([
    ['a ridge', seam(1.6)], ['a groove', seam(-1)], ['a wide ridge', seam(1.6, 4.2)], ['a step', flap(1.8)], ['nothing', () => 0],
  ])('is none on %s (seeds 4 and 5)', (_name, line) => {
    for (const seed of [4, 5]) {
      const { map, course } = along(seed, (_s, u) => line(u), 0);
      expect(gapCourse(map, course)).toBeNull();
    }
  });

  it('is none where two edges show over some centimetres alone (seed 6)', () => {
    const { map, course } = along(6, (s, u) => (s >= 20 && s < 36 ? roundGap(13, 0.8, -0.6, 0.5)(u) : 0), 0);
    expect(gapCourse(map, course)).toBeNull();
  });
});
