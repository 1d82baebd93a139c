import { describe, expect, it } from 'vitest';
import { evidenceMap } from '@cast-to-last/pipeline/cut/cut-course';
import { LINES_BESIDE, clearnessOf } from '@cast-to-last/pipeline/cut/lines-beside';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, lip, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const STATIONS = 30;
const middle = (ACROSS - 1) / 2;
const along = (low: number, high = low) => Array.from({ length: STATIONS }, (_, station) => ({ station, low: middle + low / TOP_MAP.step, high: middle + high / TOP_MAP.step }));

function seen(seed: number, add: (u: number) => number) {
  const random = rng(seed);
  return evidenceMap(cutMap({ stations: STATIONS, add: (_, u) => add(u) + 0.03 * random.normal() }));
}

describe('how clear a cut is beside the lines of its cast', () => {
  it('is far clearer on a smooth top (seed 1)', () => {
    const { low, high, beside } = clearnessOf(seen(1, seam(0.8)), along(0));
    expect(low).toBe(high);
    expect(low).toBeGreaterThan(8 * beside);
  });

  it('is no clearer among ripples, wherever it is said to run (seed 2)', () => {
    const evidence = seen(2, (u) => 0.25 * Math.sin(u));
    for (const at of [-6, 0, 5]) {
      const { low, beside } = clearnessOf(evidence, along(at));
      expect(low).toBeLessThan(1.5 * beside);
    }
  });

  it('weighs either edge, and takes the side that is clearer (seed 3)', () => {
    const evidence = seen(3, (u) => lip(0.9, -5)(u) + (u > 12 ? 0.25 * Math.sin(u) : 0));
    const { low, high, beside } = clearnessOf(evidence, along(-5, 5));
    expect(low).toBeGreaterThan(3 * high);
    expect(beside).toBeGreaterThan(3);
    expect(beside).toBeGreaterThan(2 * clearnessOf(seen(3, lip(0.9, -5)), along(-5, 5)).beside);
  });

  it('is nothing beside where the map has no room (seed 4)', () => {
    const edge = middle * TOP_MAP.step - LINES_BESIDE.nearest * TOP_MAP.step;
    expect(clearnessOf(seen(4, () => 0), along(-edge, edge)).beside).toBe(0);
  });
});
