import { describe, expect, it } from 'vitest';
import type { CrossShape } from '@cast-to-last/pipeline/cut/cut-course';
import { GAP_ALONG, edgesOf, gapAlong } from '@cast-to-last/pipeline/cut/gap-along';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, gap, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const WIDTH = 12;
const STATIONS = 60;

/** A map with the two edges of a gap between two stations, what stands ahead of it, and what is taken for a gap from `first` to `last`. */
function along(seed: number, from: number, to: number, first: number, last: number, ahead: (u: number) => number = () => 0) {
  const random = rng(seed);
  const map = cutMap({ stations: STATIONS, add: (s, u) => (s >= from && s < to ? gap(WIDTH, 0.8, 0.7)(u) : s < from ? ahead(u) : 0) + 0.06 * random.normal() });
  const course = Array.from({ length: STATIONS }, (_, station) => {
    const shape: CrossShape = station >= first && station < last ? WIDTH : 'seam';
    return { station, sample: (ACROSS - 1) / 2, shape, gain: 20 };
  });
  return gapAlong(map, course);
}

describe('a gap along a cut', () => {
  it('has a width wherever the course shows one, and none elsewhere (seed 1)', () => {
    const widths = along(1, 10, 60, 12, 58);
    widths?.forEach((width, i) => (i >= 12 && i < 58 ? expect(Math.abs((width ?? NaN) - (WIDTH - GAP_ALONG.lips))).toBeLessThan(1.1) : expect(width).toBeNull()));
    expect(widths).toHaveLength(STATIONS);
  });

  it('is none where two edges show over some centimetres alone, however plainly, as on a dent or a buckle (seed 2)', () => {
    expect(along(2, 20, 20 + GAP_ALONG.stretch - 3, 12, 50)).toBeNull();
    expect(along(2, 12, 50, 12, 50)).not.toBeNull();
  });

  it('is none where nothing shows, or over too few stations (seed 3)', () => {
    expect(along(3, 0, 0, 12, 58)).toBeNull();
    expect(along(3, 10, 60, 20, 20 + GAP_ALONG.stations - 1)).toBeNull();
  });

  it('opens where two edges begin to show, though the course takes the seam before for a gap (seed 4)', () => {
    const widths = along(4, 10, 60, 5, 60, seam(0.5));
    widths?.slice(0, 8).forEach((width) => expect(width).toBeNull());
    widths?.slice(13).forEach((width) => expect(Math.abs((width ?? NaN) - (WIDTH - GAP_ALONG.lips))).toBeLessThan(1.1));
    expect(widths).toHaveLength(STATIONS);
  });

  it('has its edges half its width to both sides', () => {
    expect(edgesOf(100, 10)).toEqual([100 - 5 / TOP_MAP.step, 100 + 5 / TOP_MAP.step]);
    const [low, high] = edgesOf(100, 7.5);
    expect(high - low).toBe(7.5 / TOP_MAP.step);
  });
});
