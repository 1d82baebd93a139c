import { describe, expect, it } from 'vitest';
import { CENTRES, CROSS_SHAPES, LINES, SAMPLES, evidenceOf, heightsRound, lineIn } from '@cast-to-last/pipeline/cut/cross-shapes';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap, gap, lip, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const middle = (ACROSS - 1) / 2;

/** Heights round sample `middle + off` of a round top with a line on it. */
function heightsOf(line: (u: number) => number, off = 0, noise = 0, seed = 1): Float64Array {
  const random = rng(seed);
  const heights = new Float64Array(SAMPLES);
  expect(heightsRound(cutMap({ stations: 1, add: (_, u) => line(u) + noise * random.normal() }), 0, middle + off, heights)).toBe(true);
  return heights;
}

function evidence(line: (u: number) => number, off = 0, noise = 0): Float64Array {
  const out = new Float64Array(LINES.count);
  evidenceOf(heightsOf(line, off, noise), out);
  return out;
}

describe('heights round a place', () => {
  it('stand over the chord: a circle lies as high as its sagitta', () => {
    const heights = heightsOf(() => 0);
    const reach = ((SAMPLES - 1) / 2) * TOP_MAP.step;
    expect(heights[0]).toBeCloseTo(-36 * (1 - Math.cos(reach / 36)), 6);
    expect(heights[(SAMPLES - 1) / 2]).toBe(0);
    expect(heights[SAMPLES - 1]).toBeCloseTo(heights[0], 9);
  });

  it('are not there where the window is not whole', () => {
    const map = cutMap({ stations: 1 });
    const heights = new Float64Array(SAMPLES);
    expect(heightsRound(map, 0, CENTRES.first - 1, heights)).toBe(false);
    expect(heightsRound(map, 0, CENTRES.last + 1, heights)).toBe(false);
    expect(heightsRound(map, 0, CENTRES.first, heights)).toBe(true);
    map.points[0] = NaN;
    expect(heightsRound(map, 0, CENTRES.first, heights)).toBe(false);
  });
});

describe('evidence for a line', () => {
  it('is nothing on a bare top, and little in noise (seed 1)', () => {
    for (const gain of evidence(() => 0)) expect(Math.abs(gain)).toBeLessThan(0.05);
    for (const gain of evidence(() => 0, 0, 0.06)) expect(gain).toBeLessThan(6);
  });

  it('names the shape that is there', () => {
    const [ridge, step] = [evidence(seam(1)), evidence(flap(1.5))];
    expect(ridge[LINES.seam]).toBeGreaterThan(15);
    expect(ridge[LINES.seam]).toBeGreaterThan(ridge[LINES.step] + 5);
    expect(step[LINES.step]).toBeGreaterThan(15);
    expect(step[LINES.step]).toBeGreaterThan(step[LINES.seam] + 5);
    expect(evidence((u) => -seam(1)(u))[LINES.seam]).toBeCloseTo(ridge[LINES.seam], 0);
  });

  it('is greatest at the edges of a gap, on the side that each looks to', () => {
    const half = 6 / TOP_MAP.step;
    const at = (off: number, side: number): number => evidence(gap(12, 0.8, 0.8), off)[LINES.edges + 2 * (CROSS_SHAPES.insides.length - 1) + side];
    for (const [edge, side] of [[-half, 0], [half, 1]]) {
      expect(at(edge, side)).toBeGreaterThan(8);
      for (const away of [-8, 8]) expect(at(edge, side)).toBeGreaterThan(at(edge + away, side));
    }
    // A face far higher than a lip is no edge of a gap.
    expect(evidence(gap(12, 8, 8), -half)[LINES.widestLow]).toBe(-Infinity);
  });

  it('tells what a line adds, whatever its shape', () => {
    for (const line of [lip(0.9, 0, 2), (u: number) => lip(0.5, -1, 2.4)(u) - lip(0.5, 1, 2.4)(u)]) {
      const added = lineIn(heightsOf(line));
      for (const u of [-6, -3, -1, 0, 1.5, 3, 6]) expect(Math.abs(added(u) - line(u))).toBeLessThan(0.12);
    }
  });
});
