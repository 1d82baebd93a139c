import { describe, expect, it } from 'vitest';
import { groundOf } from '@cast-to-last/pipeline/marks/ground';
import { castOf } from '../../support/marked.ts';
import { ellipsoid } from '../../support/ellipsoid.ts';

/** Ball points at x = 190 (y = 45) and 165 (y = −45), toe tip at 260. */
const ground = groundOf(castOf(ellipsoid([90, 60, 55], [0, 0, 0], 2)).landmarks);

describe('ground', () => {
  it('is of the toes from 15 % of the way from the ball to the toe tip, measured at its own breadth', () => {
    // At y = 45: 190 + 0.15 × 70 = 200.5; at y = −45: 165 + 0.15 × 95 = 179.25.
    expect([200, 201].map((x) => ground.kindAt([x, 45, 0]))).toEqual(['body', 'toes']);
    expect([179, 179.5].map((x) => ground.kindAt([x, -45, 0]))).toEqual(['body', 'toes']);
    // Beyond the ball points it is as at them.
    expect([200, 201].map((x) => ground.kindAt([x, 60, 0]))).toEqual(['body', 'toes']);
  });

  it('has free toes from 30 % on', () => {
    expect([210.5, 211.5].map((x) => ground.onFreeToes([x, 45, 0]))).toEqual([false, true]);
  });
});
