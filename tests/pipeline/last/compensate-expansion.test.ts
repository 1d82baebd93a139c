import { describe, expect, it } from 'vitest';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { compensateExpansion } from '@cast-to-last/pipeline/last/compensate-expansion';
import { edgedSlab } from '../../support/edged-slab.ts';

describe('compensateExpansion', () => {
  it('hands the body on bit for bit where nothing is asked for', () => {
    const body = edgedSlab();
    expect(compensateExpansion(body, 0)).toEqual({ body, changes: [], warnings: [] });
    expect(compensateExpansion(body, 0).body).toBe(body);
  });

  it.each([0.2, 0.3, 1])('takes %f %% out of every length, and three times that out of the volume', (percent) => {
    const body = edgedSlab();
    const before = body.mesh.positions.slice();
    const { body: out, changes } = compensateExpansion(body, percent);
    const share = 1 + percent / 100;
    expect(body.mesh.positions).toEqual(before);
    bounds(out.mesh.positions).forEach((c, i) => expect(c * share).toBeCloseTo(bounds(before)[i], 9));
    expect((signedVolume(out.mesh) * share ** 3) / signedVolume(body.mesh)).toBeCloseTo(1, 9);
    expect(out.landmarks.footLength * share).toBeCloseTo(body.landmarks.footLength, 9);
    out.landmarks.toeTip.forEach((c, k) => expect(c * share).toBeCloseTo(body.landmarks.toeTip[k], 9));
    expect(out.landmarks.instep).toBeNull();
    expect(changes).toHaveLength(1);
    expect(changes[0].got).toBeCloseTo(changes[0].asked!, 9);
    // Common plaster, 0.2 to 0.3 %: 0.5 to 0.8 mm on a foot of 265 mm (second-hand).
    expect(((changes[0].before - changes[0].got) / changes[0].before) * 265).toBeCloseTo((265 * percent) / 100, 1);
  });
});
