import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { CLOSING_ERROR, closingError } from '@cast-to-last/pipeline/cut/closing-error';
import type { ReadStation } from '@cast-to-last/pipeline/cut/read-cut';

/** A tape round the axis at some x. */
const tape = (x: number): Float64Array =>
  Float64Array.from({ length: 3 * 72 }, (_, i) => [x, 40 * Math.sin((2 * Math.PI * Math.floor(i / 3)) / 72), 40 * Math.cos((2 * Math.PI * Math.floor(i / 3)) / 72)][i % 3]);

/** A cut along the top from x = 160 to 60, a station every 2 mm. */
const cut = (of: (x: number) => Partial<ReadStation>, aside = 0): ReadStation[] =>
  Array.from({ length: 51 }, (_, i) => {
    const x = 160 - 2 * i;
    const at: Point = [x, aside, 40];
    return { at, edge: at, gap: 0, carried: false, doubtful: false, step: 0, madeUp: false, ...of(x) };
  });

describe('closing error under a tape', () => {
  it('is the gap where the tape crosses the cut', () => {
    const gaping = cut((x) => ({ gap: (160 - x) / 10, step: null }));
    const at = closingError(tape(101), gaping, null);
    expect(Math.abs((at.value ?? NaN) - 5.9)).toBeLessThan(0.11);
    expect(at).toMatchObject({ uncertainty: CLOSING_ERROR.gap, why: '' });
    expect(Math.abs((at.at?.[0] ?? NaN) - 101)).toBeLessThanOrEqual(1);
  });

  it('is as uncertain as it is large where the gap was carried on', () => {
    expect(closingError(tape(100), cut(() => ({ gap: 6, carried: true, step: null })), null).uncertainty).toBe(6);
    expect(closingError(tape(100), cut(() => ({ gap: 1, carried: true, step: null })), null).uncertainty).toBe(CLOSING_ERROR.carried);
  });

  it('is nothing where no cut is seen, the flaps lie together, or the tape runs clear of the cut', () => {
    const none = { value: 0, uncertainty: CLOSING_ERROR.closed, why: '', at: null };
    expect(closingError(tape(100), null, null)).toEqual(none);
    expect(closingError(tape(100), cut(() => ({ step: 0.5 })), null)).toMatchObject({ value: 0, uncertainty: CLOSING_ERROR.closed });
    expect(closingError(tape(200), cut(() => ({ gap: 8, step: null })), null)).toEqual(none);
  });

  it('is not guessed where a seam and a narrow gap look alike', () => {
    const doubted = closingError(tape(100), cut(() => ({ doubtful: true, step: 0.3 })), null);
    expect(doubted).toMatchObject({ value: null, uncertainty: null });
    expect(doubted.why).toContain('cannot be told');
    expect(doubted.at?.[0]).toBeCloseTo(100, 9);
  });

  it('cannot be read off one side where one flap rides on the other', () => {
    for (const step of [-2, 2]) {
      const ridden = closingError(tape(100), cut(() => ({ step })), null);
      expect(ridden).toMatchObject({ value: null, uncertainty: null });
      expect(ridden.why).toContain('one side');
      expect(ridden.at).not.toBeNull();
    }
  });

  it('is the overlap that both sides show: how far the two edges lie apart across the cut', () => {
    const inside = cut(() => ({ step: 3 }), 0);
    for (const aside of [-7, 7]) {
      expect(closingError(tape(100), inside, cut(() => ({ step: 3 }), aside))).toMatchObject({ value: -7, uncertainty: CLOSING_ERROR.overlap });
    }
    // The outer side does not reach there.
    expect(closingError(tape(100), inside, cut(() => ({ step: 3 }), 7).slice(0, 10)).value).toBeNull();
  });
});
