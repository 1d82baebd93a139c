import { describe, expect, it } from 'vitest';
import { sizesFromFootLength } from '@cast-to-last/foot/sizes';

describe('sizesFromFootLength', () => {
  it('rounds Mondopoint to the nearest 5 mm and every other system to the nearest half', () => {
    expect(sizesFromFootLength(262.4).mondopoint).toBe(260);
    expect(sizesFromFootLength(262.6).mondopoint).toBe(265);
    expect(sizesFromFootLength(263).parisPoint).toBe(41.5);
    expect(sizesFromFootLength(263).uk).toBe(8);
  });

  it('never falls as the foot grows', () => {
    let before = sizesFromFootLength(200);
    for (let length = 200.1; length < 340; length += 0.1) {
      const now = sizesFromFootLength(length);
      expect(now.mondopoint).toBeGreaterThanOrEqual(before.mondopoint);
      expect(now.parisPoint).toBeGreaterThanOrEqual(before.parisPoint);
      expect(now.uk).toBeGreaterThanOrEqual(before.uk as number);
      before = now;
    }
  });

  it('gives no adult UK or US size to a foot shorter than the adult scale', () => {
    const sizes = sizesFromFootLength(180);
    expect([sizes.uk, sizes.usMen, sizes.usWomen]).toEqual([null, null, null]);
    expect(sizes.parisPoint).toBe(29);
  });

  it.each([0, -1, NaN, Infinity])('refuses a length of %d', (length) => {
    expect(() => sizesFromFootLength(length)).toThrow(RangeError);
  });
});
