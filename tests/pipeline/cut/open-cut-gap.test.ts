import { describe, expect, it } from 'vitest';
import { openCutGap } from '@cast-to-last/pipeline/cut/open-cut-gap';

/** A tape of radius 40 mm round the x axis at some x. */
const tape = (x: number): Float64Array =>
  Float64Array.from({ length: 3 * 90 }, (_, i) => [x, 40 * Math.sin((Math.PI * Math.floor(i / 3)) / 45), 40 * Math.cos((Math.PI * Math.floor(i / 3)) / 45)][i % 3]);

/** The edges of a cut along the top from x = 0 to its end, `width` apart at x = 0, running together to the end; above the tapes by `lift`. */
function cut(width: number, end: number, lift = 0, aside = 0): Float64Array {
  const edge = Array.from({ length: end + 1 }, (_, x) => [x, aside - (width / 2) * (1 - x / end), 40 + lift]);
  return Float64Array.from([...edge, ...edge.toReversed().map(([x, y, z]) => [x, 2 * aside - y, z])].flat());
}

describe('gap of a cut that stands open under a tape', () => {
  it('is the distance between its edges where the tape crosses them', () => {
    const found = openCutGap(tape(25.3), [cut(6, 100)]);
    expect(found?.gap).toBeCloseTo(6 * (1 - 0.253), 6);
    expect(found?.at[0]).toBeCloseTo(25.3, 6);
    expect(found?.at[1]).toBeCloseTo(0, 6);
  });

  it('is read on the outside of a wall as well', () => {
    expect(openCutGap(tape(50), [cut(4, 100, 6)])?.gap).toBeCloseTo(2, 6);
  });

  it('does not grow where one edge stands higher than the other', () => {
    const level = cut(6, 100);
    const stepped = level.map((c, i) => (i % 3 === 2 && i < level.length / 2 ? c + 4 : c));
    expect(openCutGap(tape(40), [stepped])?.gap).toBeCloseTo(3.6, 1);
  });

  it('is the widest of several, and none beyond their ends or far from the tape', () => {
    expect(openCutGap(tape(50), [cut(4, 100, 0, 12), cut(8, 100)])?.gap).toBeCloseTo(4, 6);
    expect(openCutGap(tape(120), [cut(4, 100)])).toBeNull();
    expect(openCutGap(tape(50), [cut(4, 100, 30)])).toBeNull();
    expect(openCutGap(tape(50), [])).toBeNull();
  });
});
