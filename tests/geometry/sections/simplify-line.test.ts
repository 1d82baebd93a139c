import { describe, expect, it } from 'vitest';
import { simplifyLine } from '@cast-to-last/geometry/sections/simplify-line';

describe('simplifyLine', () => {
  it('keeps the ends of a straight line and nothing between', () => {
    expect([...simplifyLine(new Float64Array([0, 0, 1, 0, 2, 0, 3, 0]), 0.01, false)]).toEqual([0, 0, 3, 0]);
  });

  it('keeps a corner that stands out further than the tolerance, and drops one that does not', () => {
    const corner = new Float64Array([0, 0, 5, 1, 10, 0]);
    expect(simplifyLine(corner, 0.9, false).length).toBe(6);
    expect(simplifyLine(corner, 1.1, false).length).toBe(4);
  });

  it('stays within the tolerance of a circle', () => {
    const points = Float64Array.from({ length: 2000 }, (_, i) => 10 * (i % 2 === 0 ? Math.cos : Math.sin)(((i >> 1) / 1000) * 2 * Math.PI));
    const kept = simplifyLine(points, 0.05, true);
    expect(kept.length).toBeLessThan(200);
    for (let i = 0; i < kept.length; i += 2) {
      const j = (i + 2) % kept.length;
      const sagitta = 10 - Math.hypot((kept[i] + kept[j]) / 2, (kept[i + 1] + kept[j + 1]) / 2);
      expect(sagitta).toBeLessThan(0.0501);
    }
  });

  it('leaves fewer than three points as they are', () => {
    expect([...simplifyLine(new Float64Array([1, 2, 3, 4]), 5, true)]).toEqual([1, 2, 3, 4]);
  });
});
