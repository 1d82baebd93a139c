import { describe, expect, it } from 'vitest';
import { secondLine } from '@cast-to-last/pipeline/cut/second-line';
import { cutCourse, evidenceMap } from '@cast-to-last/pipeline/cut/cut-course';
import { readCut as readCutOf } from '@cast-to-last/pipeline/cut/read-cut';
import type { TopMap } from '@cast-to-last/pipeline/cut/top-map';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { cutMap, flap, gap, lip, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

/** The cut on a map that was scanned whole. */
const readCut = (map: TopMap) => readCutOf(map, () => false);

const middle = (ACROSS - 1) / 2;
/** How far beside the middle the cut runs at a station, mm. */
const wander = (s: number): number => 5 * Math.sin(s / 14);

/** A top with a line along its wandering cut, and noise. */
function cutWith(seed: number, line: (s: number, u: number) => number, noise = 0.06) {
  const random = rng(seed);
  return cutMap({ stations: 70, add: (s, u) => line(s, u - wander(s)) + noise * random.normal() });
}

/** Width of a gap that opens from the tenth station on. */
const opening = (widest: number) => (s: number): number => widest * Math.max(0, Math.min(1, (s - 10) / 20));
const gaping = (seed: number, widest: number, low: number, high: number) =>
  cutWith(seed, (s, u) => {
    const width = opening(widest)(s);
    return width < 1 ? seam(0.6)(u) : gap(width, low, high)(u);
  });

describe('course of a cut', () => {
  it('follows a wandering seam (seed 3)', () => {
    const map = cutWith(3, (_, u) => seam(1)(u));
    const course = cutCourse(map, evidenceMap(map));
    expect(course).toHaveLength(70);
    course.forEach(({ station, sample, shape }) => {
      expect(shape).toBe('seam');
      expect(Math.abs((sample - middle) * TOP_MAP.step - wander(station))).toBeLessThanOrEqual(1);
    });
  });

  it('ends where the sections end', () => {
    const map = cutWith(4, (_, u) => seam(1)(u));
    map.points.fill(NaN, 3 * 40 * ACROSS);
    expect(cutCourse(map, evidenceMap(map))).toHaveLength(40);
    map.points.fill(NaN);
    expect(cutCourse(map, evidenceMap(map))).toEqual([]);
    expect(readCut(map)).toBeNull();
  });
});

describe('second line', () => {
  it('is none beside a seam alone (seeds 5 and 6)', () => {
    for (const seed of [5, 6]) {
      const map = cutWith(seed, (_, u) => seam(1.2)(u));
      expect(Array.from(secondLine(map, cutCourse(map, evidenceMap(map)))).every((apart) => apart === 0)).toBe(true);
    }
  });

  it('is found where it is fainter than the first (seed 8)', () => {
    const apart = (s: number): number => 8 + 4 * Math.min(1, s / 30);
    const map = cutWith(8, (s, u) => lip(0.9, -apart(s) / 2)(u) + lip(0.28, apart(s) / 2)(u));
    const single = Array.from({ length: 70 }, (_, s) => ({ station: s, sample: middle + Math.round((wander(s) - apart(s) / 2) / TOP_MAP.step), shape: 'seam' as const, gain: 10 }));
    const found = Array.from(secondLine(map, single));
    expect(found.filter((samples) => samples > 0).length).toBeGreaterThan(45);
    found.forEach((samples, s) => samples > 0 && expect(Math.abs(samples * TOP_MAP.step - apart(s))).toBeLessThanOrEqual(2));
  });
});

describe('reading a cut', () => {
  it.each([[21, 10, 0.7, 0.6], [22, 14, -0.6, 0.8], [23, 12, -0.6, -0.7]])('tells how far the flaps stand apart (seed %i, %f mm, lips of %f and %f mm)', (seed, widest, low, high) => {
    const cut = readCut(gaping(seed, widest, low, high));
    if (cut === null) throw new Error('no cut seen');
    cut.slice(35, 65).forEach(({ gap: width, step, carried }) => {
      expect(Math.abs(width - widest)).toBeLessThan(1.5);
      expect(step).toBeNull();
      expect(carried).toBe(false);
    });
    for (const { gap: width } of cut.slice(0, 6)) expect(width).toBe(0);
    cut.slice(30, 65).forEach(({ at }, i) => expect(Math.abs(at[1] - wander(30 + i))).toBeLessThan(2));
  });

  it.each([
    ['a ridge', seam(1.6)], ['a groove', seam(-1)], ['a wide ridge', seam(1.6, 4.2)], ['a groove beside a ridge', (u: number) => lip(0.9, -1.7)(u) - lip(0.9, 1.7)(u)],
  ])('takes no seam for a gap: %s (seeds 31 and 32)', (_name, line) => {
    for (const seed of [31, 32]) {
      const cut = readCut(cutWith(seed, (_s, u) => line(u), 0.08));
      for (const { gap: width, doubtful } of cut ?? []) expect([width, doubtful]).toEqual([0, false]);
    }
  });

  it('tells a narrow gap or doubts it, and never denies it (seeds 61 and 62)', () => {
    for (const seed of [61, 62]) {
      for (const width of [6, 7]) {
        const cut = readCut(cutWith(seed, (s, u) => (s < 12 ? seam(0.6)(u) : gap(width, 0.75, -0.65)(u))));
        const open = cut?.slice(20, 66).filter((at) => at.doubtful || Math.abs(at.gap - width) < 2) ?? [];
        expect(open.length, `${width} mm`).toBeGreaterThan(40);
      }
    }
  });

  /** Ripples along the top, that wander a little. */
  const ripple = (height: number, pitch: number) => (s: number, u: number): number => height * Math.sin((2 * Math.PI * (u + 0.05 * s + 1.5 * Math.sin(s / 9))) / pitch);

  it.each([[71, 0.25, 6, 0], [71, 0.3, 8, 0], [74, 0.3, 8, 0.7]])('takes no ripples for the edges of a gap, and says that they hide it (seed %i, %f mm every %f mm, a seam of %f mm)', (seed, height, pitch, ridge) => {
    const wavy = ripple(height, pitch);
    const cut = readCut(cutWith(seed, (s, u) => seam(ridge)(u) + wavy(s, u + wander(s)), 0.05));
    expect(cut).toHaveLength(70);
    for (const { gap: width, hidden } of cut ?? []) expect([width, hidden]).toEqual([0, true]);
  });

  it('tells a gap that is clearer than the weave beside it (seed 75)', () => {
    const cut = readCut(cutWith(75, (s, u) => gap(13, 0.7, -0.6)(u) + 0.08 * Math.cos(2 * s) * Math.cos((2 * Math.PI * (u + wander(s))) / 3), 0.05));
    for (const { gap: width, hidden } of cut?.slice(5, 65) ?? []) {
      expect(Math.abs(width - 13)).toBeLessThan(1.5);
      expect(hidden).toBe(false);
    }
    expect(cut).toHaveLength(70);
  });

  it('takes no marks beside a seam for its other edge: an edge of bandage, a fingertip (seed 34)', () => {
    const fingertip = (s: number, u: number): number => -1.5 * Math.exp(-(((s - 40) * TOP_MAP.station) ** 2 + (u - 12) ** 2) / 50);
    const cut = readCut(cutWith(34, (s, u) => seam(0.9)(u) + (s > 15 && s < 32 ? lip(0.7, -10)(u) : 0) + fingertip(s, u)));
    for (const { gap: width } of cut ?? []) expect(width).toBe(0);
  });

  it('tells how high one flap stands over the other (seed 41)', () => {
    for (const height of [2, -4]) {
      const cut = readCut(cutWith(41, (_, u) => flap(height)(u)));
      if (cut === null) throw new Error('no cut seen');
      for (const { gap: width, step } of cut.slice(5, 65)) {
        expect(width).toBe(0);
        expect(Math.abs((step ?? NaN) - height)).toBeLessThan(0.25 + Math.abs(height) / 8);
      }
    }
  });

  it.each([[81, 6, 2.5], [82, 8, 3.5], [83, 4, 3]])('takes a strip that fills a gap up to the bandage over it for no flap that rides (seed %i, %f mm broad, %f mm high)', (seed, width, height) => {
    const cut = readCut(cutWith(seed, (_, u) => height * 0.5 * (1 + Math.tanh((width / 2 - Math.abs(u)) / 0.5))));
    if (cut === null) throw new Error('no cut seen');
    for (const { gap: found, step } of cut.slice(5, 65)) {
      expect(Math.abs(found - width)).toBeLessThan(1);
      expect(step).toBeNull();
    }
  });

  it('sees no cut on a bare top (seed 51)', () => {
    expect(readCut(cutWith(51, () => 0))).toBeNull();
  });
});
