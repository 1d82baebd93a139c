import { describe, expect, it } from 'vitest';
import { CARRY_ON, carryOn } from '@cast-to-last/pipeline/cut/carry-on';
import { TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';

const of = (count: number, width: number): number[] => Array.from({ length: count }, () => width);

describe('carrying a gap on', () => {
  it('leaves a course without a gap alone', () => {
    expect(carryOn(of(20, 0))).toEqual(of(20, 0));
    expect(carryOn([])).toEqual([]);
  });

  it('keeps an even width and a straight taper', () => {
    expect(carryOn(of(20, 7))).toEqual(of(20, 7));
    const taper = Array.from({ length: 20 }, (_, i) => 4 + 0.3 * i);
    carryOn(taper).slice(CARRY_ON.evened, -CARRY_ON.evened).forEach((width, i) => expect(width).toBeCloseTo(taper[i + CARRY_ON.evened], 9));
  });

  it('evens single stations out', () => {
    const widths = of(20, 6);
    widths[10] = 13;
    const even = carryOn(widths);
    expect(Math.max(...even)).toBeCloseTo(7, 9);
    expect(even[5]).toBe(6);
  });

  it('runs straight from one part that shows to the next', () => {
    const out = carryOn([...of(10, 6), ...of(9, 0), ...of(10, 11)]);
    for (let i = 9; i <= 19; i++) expect(out[i]).toBeCloseTo(6 + 0.5 * (i - 9), 9);
  });

  it('narrows to nothing towards the toes, and slowly towards the top', () => {
    const out = carryOn([...of(30, 0), ...of(10, 9), ...of(10, 0)]);
    const [front, top] = [CARRY_ON.front * TOP_MAP.station, CARRY_ON.top * TOP_MAP.station];
    expect(out[29]).toBeCloseTo(9 - front, 9);
    expect(out[25]).toBeCloseTo(9 - 5 * front, 9);
    expect(out.slice(0, 30 - Math.ceil(9 / front))).toEqual(of(30 - Math.ceil(9 / front), 0));
    expect(out[49]).toBeCloseTo(9 - 10 * top, 9);
  });
});
