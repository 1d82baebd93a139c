import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { coarseDoubt, coarseSlide } from '@cast-to-last/foot/coarse-doubt';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom } from '../phantoms/make-phantom.ts';

describe('what facets cost', () => {
  it('is nothing on a fine surface, and more the longer the edges are', () => {
    for (const edge of [0.5, 2.5]) expect([coarseDoubt('foot-length', edge), coarseDoubt('toe-height', edge), coarseSlide(edge)]).toEqual([0, 0, 0]);
    expect(coarseDoubt('foot-length', 8)).toBeGreaterThan(2 * coarseDoubt('foot-length', 5));
    expect(coarseSlide(8)).toBe(6);
    expect(coarseDoubt('heel-width', 8)).toBe(0);
  });

  it('is covered by what is told of a cast of 3,000 triangles, whose ball points lie 5 mm off and more', async () => {
    let told = 0;
    let covered = 0;
    let worst = 0;
    for (const seed of [210, 211, 212, 213]) {
      const { scan, truth } = makePhantom(seed, { triangles: 3000, denseTriangles: 60_000, unit: 'mm', dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, noise: 0.03 });
      const { measured } = await checkScan({ bytes: writeStl(scan), fileName: 'coarse.stl', side: truth.side, kind: 'positive', unit: 'mm' }, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, stage) => stage());
      for (const m of measured.measurements) {
        const reference = truth.measures[m.id];
        if (!('value' in m) || reference === undefined) continue;
        told++;
        const error = Math.abs(m.value - reference);
        if (error <= m.uncertainty) covered++;
        if (m.id === 'lateral-ball-length') worst = Math.max(worst, error);
      }
    }
    expect(told).toBeGreaterThan(50);
    expect(worst).toBeGreaterThan(2);
    expect(covered / told).toBeGreaterThanOrEqual(0.9);
  });
});
