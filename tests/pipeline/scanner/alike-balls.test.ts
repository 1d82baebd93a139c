import { describe, expect, it } from 'vitest';
import { alikeBalls } from '@cast-to-last/pipeline/scanner/alike-balls';

const balls = (...diameters: number[]): { diameterMm: number }[] => diameters.map((diameterMm) => ({ diameterMm }));

describe('balls of one gauge', () => {
  it('are those as large as the one nearest to the given diameter, whichever was seen best', () => {
    expect(alikeBalls(balls(28.2, 30.1, 29.9, 32), 30)).toEqual(balls(30.1, 29.9));
  });

  it('may come out unlike by what a bad scanner does, and all be off', () => {
    expect(alikeBalls(balls(30.3, 29.8), 30)).toHaveLength(2);
    expect(alikeBalls(balls(31.2, 31.1), 30)).toHaveLength(2);
    expect(alikeBalls(balls(12.4, 12.8), 12.7)).toHaveLength(2);
  });

  it('are none where there are none', () => {
    expect(alikeBalls([], 30)).toEqual([]);
  });
});
