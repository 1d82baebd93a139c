import { describe, expect, it } from 'vitest';
import type { Point } from '@cast-to-last/foot/landmarks';
import { CLOSING_ERROR, GAP_OR_OVERLAP, closingError } from '@cast-to-last/pipeline/cut/closing-error';
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
const cutAt = (angle: number, radius: number, step = -3): ReadStation[] =>
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

  it('is the overlap that both sides show: the arc on the lower flap from the foot of its edge, whatever the wall between them', () => {
    const surface = cutMap();
    // Both flaps lie 20 mm beside the crown, where the wall stands up aslant; half of the face is not the lower flap's.
    const inside = cutAt((20 - 7) / 36, 36);
    for (const wall of [2, 8]) {
      const over = closingError(tubeTape, inside, cutAt(27 / 36, 36 + wall), surface);
      expect(over).toMatchObject({ uncertainty: CLOSING_ERROR.overlap });
      expect(Math.abs((over.value ?? NaN) + 12.5)).toBeLessThanOrEqual(0.5);
    }
    // The outer side does not reach there.
    expect(closingError(tubeTape, inside, cutAt(27 / 36, 40).slice(0, 8), surface).value).toBeNull();
  });

  it('is the overlap where one side alone shows which flap rides, and is not guessed where the sides disagree', () => {
    const surface = cutMap();
    const outer = cutAt(27 / 36, 40);
    // So low a step inside may well have the wrong sign.
    for (const step of [0.2, -0.2]) expect(Math.abs((closingError(tubeTape, cutAt(13 / 36, 36, step), outer, surface).value ?? NaN) + 13.9)).toBeLessThanOrEqual(0.5);
    expect(Math.abs((closingError(tubeTape, cutAt(13 / 36, 36), cutAt(27 / 36, 40, 0.2), surface).value ?? NaN) + 12.5)).toBeLessThanOrEqual(0.5);
    const other = closingError(tubeTape, cutAt(13 / 36, 36, 3), outer, surface);
    expect(other.value).toBeNull();
    expect(other.why).toContain('do not show the same');
  });

  it('is not guessed where the upper flap would end before the lower one begins', () => {
    const apart = closingError(tubeTape, cutAt(13 / 36, 36, 3), cutAt(27 / 36, 40, 3), cutMap());
    expect(apart).toMatchObject({ value: null, uncertainty: null });
    expect(apart.why).toContain('not those of two flaps');
    expect(apart.at).not.toBeNull();
  });

  it('is an overlap where both sides show the same low step, and nothing where one does or they differ', () => {
    const over = (here: number, there: number): number | null => closingError(tubeTape, cutAt(13 / 36, 36, here), cutAt(27 / 36, 40, there), cutMap()).value;
    expect(over(-1.1, -1.1)).toBeLessThan(-12);
    for (const [here, there] of [[-1.1, 0], [0, -1.1], [-1.1, 1.1], [-0.9, -0.9]]) expect(over(here, there), `${here} ${there}`).toBe(0);
  });

  it('is not told where one side shows a gap and the other a flap that rides', () => {
    const outside = (step: number | null): ReadStation[] => cut(() => ({ step }));
    const gaping = cut(() => ({ gap: 3, step: null }));
    for (const step of [-2, 2]) expect(closingError(tape(100), gaping, outside(step), null)).toMatchObject({ value: null, uncertainty: null, why: GAP_OR_OVERLAP, at: [100, 0, 40] });
    for (const step of [-0.9, 0.9, null]) expect(closingError(tape(100), gaping, outside(step), null).value).toBe(3);
  });
});
