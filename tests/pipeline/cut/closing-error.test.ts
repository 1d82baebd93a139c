import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { CLOSING_ERROR, closingError } from '@cast-to-last/pipeline/cut/closing-error';
import type { ReadStation } from '@cast-to-last/pipeline/cut/read-cut';
import { cutMap } from '../../support/cut-map.ts';

/** A tape round the axis at some x. */
const tape = (x: number): Float64Array =>
  Float64Array.from({ length: 3 * 72 }, (_, i) => [x, 40 * Math.sin((2 * Math.PI * Math.floor(i / 3)) / 72), 40 * Math.cos((2 * Math.PI * Math.floor(i / 3)) / 72)][i % 3]);

/** A cut along the top from x = 160 to 60, a station every 2 mm. */
const cut = (of: (x: number) => Partial<ReadStation>, aside = 0): ReadStation[] =>
  Array.from({ length: 51 }, (_, i) => {
    const x = 160 - 2 * i;
    const at: Point = [x, aside, 40];
    return { at, edge: at, gap: 0, carried: false, doubtful: false, step: 0, hidden: false, mayGape: false, madeUp: false, ...of(x) };
  });

/** A tape round the middle of a round top, and a cut along it at an angle from the crown and a distance from the axis, mm. */
const tubeTape = Float64Array.from({ length: 3 * 72 }, (_, i) => [-60, 36 * Math.sin((2 * Math.PI * Math.floor(i / 3)) / 72), 36 * Math.cos((2 * Math.PI * Math.floor(i / 3)) / 72)][i % 3]);
const cutAt = (angle: number, radius: number, step = 3): ReadStation[] =>
  Array.from({ length: 60 }, (_, s) => {
    const at: Point = [-2 * s, radius * Math.sin(angle), radius * Math.cos(angle)];
    return { at, edge: at, gap: 0, carried: false, doubtful: false, step, hidden: false, mayGape: false, madeUp: false };
  });

describe('closing error under a tape', () => {
  it('is the gap where the tape crosses the cut', () => {
    const gaping = cut((x) => ({ gap: (160 - x) / 10, step: null }));
    const at = closingError(tape(101), gaping, null, null);
    expect(Math.abs((at.value ?? NaN) - 5.9)).toBeLessThan(0.11);
    expect(at).toMatchObject({ uncertainty: CLOSING_ERROR.gap, why: '' });
    expect(Math.abs((at.at?.[0] ?? NaN) - 101)).toBeLessThanOrEqual(1);
  });

  it('is not guessed where a wide gap was carried on to the tape', () => {
    const wide = closingError(tape(100), cut(() => ({ gap: 6, carried: true, step: null })), null, null);
    expect(wide).toMatchObject({ value: null, uncertainty: null });
    expect(wide.why).toContain('gapes beside here');
    expect(closingError(tape(100), cut(() => ({ gap: 1, carried: true, step: null })), null, null)).toMatchObject({ value: 1, uncertainty: CLOSING_ERROR.carried });
  });

  it('is nothing where no cut is seen, the flaps lie together, or the tape runs clear of the cut', () => {
    const none = { value: 0, uncertainty: CLOSING_ERROR.closed, why: '', at: null };
    expect(closingError(tape(100), null, null, null)).toEqual(none);
    expect(closingError(tape(100), cut(() => ({ step: 0.5 })), null, null)).toMatchObject({ value: 0, uncertainty: CLOSING_ERROR.closed });
    expect(closingError(tape(200), cut(() => ({ gap: 8, step: null })), null, null)).toEqual(none);
  });

  it('is not guessed where a seam and a narrow gap look alike', () => {
    const doubted = closingError(tape(100), cut(() => ({ doubtful: true, step: 0.3 })), null, null);
    expect(doubted).toMatchObject({ value: null, uncertainty: null });
    expect(doubted.why).toContain('cannot be told');
    expect(doubted.at?.[0]).toBeCloseTo(100, 9);
  });

  it('is not told where the texture of the cast hides the cut, whatever else shows there', () => {
    for (const shown of [{ step: 0.3 }, { gap: 9, step: null }, { step: 3 }]) {
      const hidden = closingError(tape(100), cut(() => ({ ...shown, hidden: true })), null, null);
      expect(hidden).toMatchObject({ value: null, uncertainty: null });
      expect(hidden.why).toContain('The surface beside');
      expect(hidden.at?.[0]).toBeCloseTo(100, 9);
      expect(closingError(tape(100), cut(() => ({ ...shown, hidden: true, mayGape: true })), null, null).why).toContain('as those of a gap would');
    }
  });

  it('cannot be read off one side where one flap rides on the other', () => {
    for (const step of [-2, 2]) {
      const ridden = closingError(tape(100), cut(() => ({ step })), null, null);
      expect(ridden).toMatchObject({ value: null, uncertainty: null });
      expect(ridden.why).toContain('one side');
      expect(ridden.at).not.toBeNull();
    }
  });

  it('is the overlap that both sides show: the arc on the foot between the edges, whatever the wall between them', () => {
    const surface = cutMap();
    // Both flaps lie 20 mm beside the crown, where the wall stands up aslant.
    const inside = cutAt((20 - 7) / 36, 36);
    for (const wall of [2, 8]) {
      const over = closingError(tubeTape, inside, cutAt(27 / 36, 36 + wall), surface);
      expect(over).toMatchObject({ uncertainty: CLOSING_ERROR.overlap });
      expect(Math.abs((over.value ?? NaN) + 14)).toBeLessThanOrEqual(0.5);
    }
    // The outer side does not reach there.
    expect(closingError(tubeTape, inside, cutAt(27 / 36, 40).slice(0, 8), surface).value).toBeNull();
  });

  it('is the overlap where one side alone shows which flap rides, and is not guessed where the sides disagree', () => {
    const surface = cutMap();
    const outer = cutAt(27 / 36, 40);
    expect(closingError(tubeTape, cutAt(13 / 36, 36, 0.2), outer, surface).value).toBeLessThan(-13);
    const other = closingError(tubeTape, cutAt(13 / 36, 36, -3), outer, surface);
    expect(other.value).toBeNull();
    expect(other.why).toContain('do not show the same');
  });
});
