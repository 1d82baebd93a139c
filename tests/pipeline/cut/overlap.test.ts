import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { overlapAt } from '@cast-to-last/pipeline/cut/overlap';
import type { ReadStation } from '@cast-to-last/pipeline/cut/read-cut';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap } from '../../support/cut-map.ts';

const RADIUS = 36;
const surface = cutMap({ radius: RADIUS });

/** A cut along the top, so many mm beside the crown at each station, on a surface so many mm over the foot. */
const cut = (aside: (station: number) => number, over: number, step: number): ReadStation[] =>
  Array.from({ length: surface.stations }, (_, s) => {
    const angle = aside(s) / RADIUS;
    const at: Point = [-TOP_MAP.station * s, (RADIUS + over) * Math.sin(angle), (RADIUS + over) * Math.cos(angle)];
    return { at, edge: at, gap: 0, carried: false, doubtful: false, step, hidden: false, mayGape: false, madeUp: false };
  });

describe('overlap of two flaps', () => {
  it.each([1, -1] as const)('is the arc from the foot of the lower edge to what lies under the upper one, the lower flap to side %i', (low) => {
    for (const [inner, outer] of [[0, 10], [-6, 3], [4, 15]]) {
      for (const wall of [2, 8]) {
        for (const step of [1, 4]) {
          const read = overlapAt(surface, cut(() => low * inner, 0, -low * step), 30, cut(() => low * outer, wall, -low * step), low);
          expect(Math.abs((read ?? NaN) - (outer - inner - step / 2)), `${inner} ${outer} ${wall} ${step}`).toBeLessThan(0.4);
        }
      }
    }
  });

  it('is that of its own place where it grows along the cut, and is not led astray by single edges', () => {
    const grows = (s: number): number => 4 + s / 6;
    const astray = (s: number): number => (s % 9 === 3 ? 20 : grows(s));
    for (const i of [10, 30, 50]) {
      expect(Math.abs((overlapAt(surface, cut(() => 0, 0, -2), i, cut(grows, 4, -2), 1) ?? NaN) - grows(i) + 1)).toBeLessThan(0.6);
      expect(Math.abs((overlapAt(surface, cut(() => 0, 0, -2), i, cut(astray, 4, -2), 1) ?? NaN) - grows(i) + 1)).toBeLessThan(0.6);
    }
  });

  it('is none where the edges seem to miss each other by as much as both err, and is not told beyond', () => {
    const read = (outer: number): number | null => overlapAt(surface, cut(() => 0, 0, 0), 30, cut(() => outer, 4, 0), 1);
    expect(read(-1)).toBe(0);
    expect(read(-2.5)).toBe(0);
    for (const outer of [-4, -9, -20]) expect(read(outer)).toBeNull();
  });

  it('is not told where the lower flap was not scanned', () => {
    const bare = { ...surface, points: surface.points.slice() };
    const edges = cut(() => 0, 0, 0);
    for (let q = 0; q < bare.points.length; q += 3) if ((q / 3) % ACROSS >= (ACROSS - 1) / 2) bare.points.fill(NaN, q, q + 3);
    expect(overlapAt(bare, edges, 30, cut(() => 8, 4, 0), 1)).toBeNull();
  });
});
