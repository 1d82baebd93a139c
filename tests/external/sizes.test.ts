import { describe, expect, it } from 'vitest';
import { sizesFromFootLength } from '@cast-to-last/foot/sizes';

/** Marking table quoted as ISO/TS 19407 (second-hand): foot length mm → EU, UK, US men, US women. EU ties go down. */
const MARKING_TABLE: readonly [number, number, number, number, number][] = [
  [215, 34, 2.5, 3.5, 4.5], [220, 35, 3, 4, 5], [225, 35.5, 3.5, 4.5, 5.5], [230, 36.5, 4, 5, 6], [240, 38, 5.5, 6.5, 7.5],
  [245, 38.5, 6, 7, 8], [250, 39.5, 6.5, 7.5, 8.5], [255, 40, 7, 8, 9], [260, 41, 7.5, 8.5, 9.5], [265, 41.5, 8.5, 9.5, 10.5],
  [270, 42.5, 9, 10, 11], [275, 43, 9.5, 10.5, 11.5], [280, 44, 10, 11, 12], [285, 44.5, 10.5, 11.5, 12.5],
  [295, 46, 12, 13, 14], [300, 47, 12.5, 13.5, 14.5],
];

describe('sizes against quoted values', () => {
  it.each(MARKING_TABLE)('%d mm is marked EU %d, UK %d, US men %d, US women %d', (length, eu, uk, men, women) => {
    const sizes = sizesFromFootLength(length);
    expect([sizes.parisPoint, sizes.uk, sizes.usMen, sizes.usWomen]).toEqual([eu, uk, men, women]);
    expect(sizes.mondopoint).toBe(length);
  });

  // Second-hand, quoted as ISO 19407, to the hundredth of a millimetre.
  it.each([[245.53, 'uk', 6], [279.4, 'uk', 10], [246.67, 'parisPoint', 39], [280, 'parisPoint', 44]] as const)(
    '%d mm is %s %d exactly', (length, system, size) => {
      const step = system === 'uk' ? 25.4 / 3 : 20 / 3;
      expect(Math.abs(sizesFromFootLength(length).exact[system] - size) * step).toBeLessThan(0.006);
    },
  );
});
