import { describe, expect, it } from 'vitest';
import { nearestOnTape } from '@cast-to-last/pipeline/cut/near-tape';

/** A square of 10 mm in the level. */
const square = Float64Array.from([0, 0, 0, 10, 0, 0, 10, 10, 0, 0, 10, 0]);

describe('the point of a tape nearest to a point', () => {
  it('lies on a side, also on the one that closes the tape, or at a corner', () => {
    expect(nearestOnTape(square, [4, -3, 0], 5)).toEqual({ foot: [4, 0, 0], away: 3 });
    expect(nearestOnTape(square, [-2, 6, 0], 5)).toEqual({ foot: [0, 6, 0], away: 2 });
    expect(nearestOnTape(square, [13, 14, 0], 6)).toEqual({ foot: [10, 10, 0], away: 5 });
  });

  it('is none where it lies no nearer than is asked', () => {
    expect(nearestOnTape(square, [4, -3, 0], 3)).toBeNull();
    expect(nearestOnTape(square, [5, 5, 20], 10)).toBeNull();
  });
});
