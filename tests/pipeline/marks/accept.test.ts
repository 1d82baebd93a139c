import { describe, expect, it } from 'vitest';
import { ACCEPT, isAgreed, isMarkSized } from '@cast-to-last/pipeline/marks/accept';
import type { Extent } from '@cast-to-last/pipeline/marks/extent';

const extent = { vertices: Uint32Array.of(0, 2), depth: -2, width: 14 } as Extent;

describe('what is a mark', () => {
  it('has the depth and the width of one', () => {
    expect(isMarkSized(extent, 0.3)).toBe(true);
    expect(isMarkSized(extent, 2.1)).toBe(false);
    expect(isMarkSized({ ...extent, depth: ACCEPT.mostDepth + 0.1 }, 0.3)).toBe(false);
    expect(isMarkSized({ ...extent, width: ACCEPT.widest + 0.1 }, 0.3)).toBe(false);
    expect(isMarkSized({ ...extent, width: ACCEPT.slimmest - 0.1 }, 0.3)).toBe(false);
  });

  it('is seen by the learned heights, by the area of its vertices, with its own sign', () => {
    const areas = Float64Array.of(1, 9, 3);
    // (−0.8 − 3 × 0.1) / 4 = −0.275 against a tenth of −2.
    expect(isAgreed(extent, Float32Array.of(-0.8, 5, -0.1), areas)).toBe(true);
    expect(isAgreed(extent, Float32Array.of(-0.1, -5, -0.1), areas)).toBe(false);
    expect(isAgreed({ ...extent, depth: 2 }, Float32Array.of(-0.8, 5, -0.1), areas)).toBe(false);
  });
});
