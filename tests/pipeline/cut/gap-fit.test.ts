import { describe, expect, it } from 'vitest';
import { fitGap } from '@cast-to-last/pipeline/cut/gap-fit';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap, gap, lip, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const middle = (ACROSS - 1) / 2;
const edges = (width: number): [number, number] => [middle - Math.round(width / 2 / TOP_MAP.step), middle + Math.round(width / 2 / TOP_MAP.step)];

describe('gap at one station', () => {
  it.each([7, 10, 14, 18])('has the width of its edges (%f mm), wherever near they were thought', (width) => {
    for (const [left, right] of [[0.6, 0.6], [0.8, -0.5], [-0.7, -0.4]]) {
      const map = cutMap({ add: (_, u) => gap(width, left, right)(u) });
      for (const off of [-3, 0, 4]) {
        const [low, high] = edges(width);
        const fit = fitGap(map, 20, low + off, high - 2);
        expect(Math.abs((fit?.width ?? NaN) - width), `lips of ${left} and ${right} mm`).toBeLessThanOrEqual(TOP_MAP.step);
        // Narrower ones look like a seam with its ridge and hollow.
        if (width >= 10) expect(fit?.gain).toBeGreaterThan(3);
      }
    }
  });

  it('shows whatever the plaster between bulges', () => {
    const map = cutMap({ add: (_, u) => gap(12, 0.6, 0.6)(u) + (Math.abs(u) < 6 ? 1.2 * (1 - (u / 6) ** 2) : 0) });
    expect(Math.abs((fitGap(map, 20, ...edges(12))?.width ?? NaN) - 12)).toBeLessThanOrEqual(TOP_MAP.step);
  });

  it('bears out no gap where one line explains as much', () => {
    const lines: [string, (u: number) => number][] = [
      ['a ridge', seam(1.5)], ['a groove', seam(-1.2)], ['a wide ridge', seam(1.5, 4.2)], ['a ridge with a step', (u) => seam(1)(u) + 0.6 * (u / 3) * Math.exp(-((u / 3) ** 2))],
      ['a groove beside a ridge', (u) => lip(0.8, -1.6)(u) - lip(0.8, 1.6)(u)],
    ];
    for (const [name, line] of lines) {
      const fit = fitGap(cutMap({ add: (_, u) => line(u) }), 20, ...edges(8));
      expect(fit?.gain, name).toBeLessThan(0);
    }
    expect(fitGap(cutMap({ add: (_, u) => flap(2)(u) }), 20, ...edges(12))?.gain).toBeLessThan(2);
  });

  it('gains by noise alone no more than it loses, on the whole (seed 11)', () => {
    const random = rng(11);
    const map = cutMap({ add: (_, u) => seam(1.2)(u) + 0.08 * random.normal() });
    const gains = Array.from({ length: map.stations }, (_, s) => fitGap(map, s, ...edges(10))?.gain ?? NaN);
    expect(gains.reduce((sum, gain) => sum + gain, 0)).toBeLessThan(0);
  });

  it('cannot be read near the end of a section', () => {
    expect(fitGap(cutMap(), 20, 2, 22)).toBeNull();
  });
});
