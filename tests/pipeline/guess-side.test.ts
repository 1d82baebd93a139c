import { describe, expect, it } from 'vitest';
import { guessSide } from '@cast-to-last/pipeline/guess-side';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { mirrorMesh } from '../phantoms/surface/mirror-mesh.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { repair } from '../support/repaired.ts';

const plain = { triangles: 10_000, denseTriangles: 8000, side: 'right', posed: true, dents: 2, bumps: 1, ridges: 1, seam: true, debris: false, missingSole: false, noise: 0.05 } as const;
const feet = ([[71, 'bones', 'cut'], [72, 'sections', 'ragged'], [73, 'blunt', 'capped'], [74, 'sections', 'cut']] as const).map(([seed, family, top]) => ({ seed, scan: makePhantom(seed, { ...plain, family, top }).scan }));

describe.each(feet)('the side of phantom $seed', ({ scan }) => {
  it('is told from its shape in any pose, and turns with the mirror', () => {
    const right = guessSide(repair(scan), 'positive');
    const left = guessSide(repair(mirrorMesh(scan)), 'positive');
    expect([right.side, left.side]).toEqual(['right', 'left']);
    expect(right.sure).toBe(left.sure);
    expect(left.why).toMatch(/left foot/);
    expect(right.why).toMatch(/right foot/);
  });

  it('is not relied on where the inside of a shell may have been mirrored', () => {
    const guess = guessSide(repair(scan), 'inside');
    expect(guess).toMatchObject({ side: 'right', sure: false, why: expect.stringContaining('mirrored') });
  });
});

describe('the side', () => {
  it('of most casts is sure', () => {
    expect(feet.filter(({ scan }) => guessSide(repair(scan), 'positive').sure).length).toBeGreaterThanOrEqual(3);
  });

  it('of what is no foot is refused', () => {
    expect(() => guessSide(repair(ellipsoid([120, 45, 45], [0, 0, 0], 4)), 'positive')).toThrow(/foot/);
  });
});
