import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compareCasts } from '@cast-to-last/pipeline/pair/compare-casts';
import type { ComparedCast } from '@cast-to-last/pipeline/pair/compared-cast';
import { comparisonMap } from '@cast-to-last/pipeline/pair/comparison-map';
import { mirrored } from '@cast-to-last/pipeline/pair/register-casts';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { cutAway, footBlob } from '../../support/foot-blob.js';

const body = cutAway(footBlob(5), (_x, _y, z) => z > 130);

const cast = (side: 'left' | 'right', mesh: Mesh): ComparedCast => ({
  name: `the ${side} cast`, side, load: undefined, measurements: [{ id: 'foot-length', label: 'foot length', value: 260, unit: 'mm', uncertainty: 0.3, on: 'cast', onFilled: 0 }],
  check: { verdict: 'usable', findings: [], readings: [] }, mesh: side === 'left' ? mirrored(mesh) : mesh,
});

const mapOf = (first: Mesh) => {
  const comparison = compareCasts(cast('left', first), cast('right', body), DEFAULT_RULES.check);
  return comparisonMap(comparison, body, 'right');
};

/** The body with the points of a place moved along y. */
function moved(by: number, place: (x: number, y: number, z: number) => boolean): Mesh {
  const p = body.positions.slice();
  for (let i = 0; i < p.length; i += 3) if (place(p[i], p[i + 1], p[i + 2])) p[i + 1] += by;
  return { positions: p, triangles: body.triangles };
}

describe('the map of a comparison', () => {
  it('shows nothing for a foot and its mirror image, both outlines on each other, open tops and all', () => {
    const map = mapOf(body);
    expect(map.map((v) => v.view)).toEqual(['top', 'sole', 'inner', 'outer']);
    for (const view of map) {
      expect(view.changes.flatMap((c) => c.areas), view.view).toEqual([]);
      expect(view.peaks).toEqual([]);
      expect(view.marks).toEqual([]);
      expect(view.cast.length).toBeGreaterThan(0);
      expect(view.last).toHaveLength(view.cast.length);
    }
  });

  it.each([[3, 'inner', 'outer', 1], [-3, 'outer', 'inner', 1]] as const)('shows what stands out %s mm along Y of a right foot on the %s side and not on the other', (by, shown, hidden, sign) => {
    const map = mapOf(moved(by, (x, y, z) => x > 90 && x < 150 && z > 15 && z < 60 && Math.sign(by) * y > 10));
    const view = (name: string) => map.find((v) => v.view === name)!;
    const [peak] = view(shown).peaks;
    expect(Math.sign(peak.value)).toBe(sign);
    expect(Math.abs(peak.value)).toBeGreaterThan(2.3);
    expect(Math.abs(peak.value)).toBeLessThan(3.3);
    // From the inside of a right foot the toes point left.
    expect(Math.abs(peak.at[0])).toBeGreaterThan(88);
    expect(Math.abs(peak.at[0])).toBeLessThan(152);
    expect(view(shown).changes.find((c) => c.beyond === 2)?.areas.length).toBeGreaterThan(0);
    expect(view(hidden).changes.filter((c) => Math.abs(c.beyond) === 2).flatMap((c) => c.areas)).toEqual([]);
  });

  it('shows what goes in as negative', () => {
    const [peak] = mapOf(moved(-3, (x, y, z) => x > 90 && x < 150 && z > 15 && z < 60 && y > 10)).find((v) => v.view === 'inner')!.peaks;
    expect(peak.value).toBeLessThan(-2.3);
    expect(peak.value).toBeGreaterThan(-3.3);
  });
});
