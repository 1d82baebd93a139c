import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import { cutAway } from '../../support/foot-blob.ts';
import { expectSound, foot, meanHeight, openFoot, repair, worstFill } from '../../support/repaired.ts';

describe('repairCast tells openings from holes', () => {
  const cases: [string, Mesh, { readonly opening: readonly [number, number] | null; readonly holes: number }][] = [
    ['cut high', cutAway(foot, (_x, _y, z) => z > 170), { opening: [160, 175], holes: 0 }],
    ['cut low', cutAway(foot, (_x, _y, z) => z > 75), { opening: [68, 76], holes: 0 }],
    ['cut aslant', cutAway(foot, (x, _y, z) => z + 0.35 * (x - 50) > 120), { opening: [105, 135], holes: 0 }],
    ['with a deep notch in front', cutAway(openFoot, (x, y, z) => z > 80 && y > 0 && Math.abs(x - 55) < 12), { opening: [80, 130], holes: 0 }],
    ['open at sole and ankle', cutAway(openFoot, (_x, _y, z) => z < 8), { opening: [120, 131], holes: 1 }],
    ['capped and open at the sole', cutAway(foot, (_x, _y, z) => z < 8), { opening: null, holes: 1 }],
    ['with a sole patch missing', cutAway(openFoot, (x, y, z) => z < 20 && Math.abs(x - 110) < 50 && Math.abs(y) < 30), { opening: [120, 131], holes: 1 }],
    ['capped with a sole patch missing', cutAway(foot, (x, y, z) => z < 20 && Math.abs(x - 110) < 50 && Math.abs(y) < 30), { opening: null, holes: 1 }],
    ['with the heel cut off', cutAway(openFoot, (x, _y, z) => x < 30 && z < 80), { opening: [120, 131], holes: 1 }],
    ['with the toes cut off', cutAway(openFoot, (x) => x > 215), { opening: [120, 131], holes: 1 }],
    ['capped with a hole of 60 mm in the side', cutAway(foot, (x, y, z) => y < 0 && Math.hypot(x - 40, z - 50) < 30), { opening: null, holes: 1 }],
  ];
  for (const [name, mesh, wanted] of cases) {
    it(name, () => {
      const cast = repair(mesh);
      expectSound(cast);
      expect(cast.repairs.holesFilled).toBe(wanted.holes);
      expect(cast.opening === null).toBe(wanted.opening === null);
      if (wanted.opening === null) return;
      expect(meanHeight(cast)).toBeGreaterThan(wanted.opening[0]);
      expect(meanHeight(cast)).toBeLessThan(wanted.opening[1]);
    });
  }

  describe.each([[105, 'bones'], [106, 'sections'], [107, 'blunt']] as const)('of a capped cast (seed %i, %s)', (seed, family) => {
    const { scan, truth } = makePhantom(seed, { triangles: 16_000, denseTriangles: 6000, family, side: 'right', top: 'capped', posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false });
    const p = transformPositions(truth.transform, scan.positions);
    const nearestTo = (x: number, y: number, z: number): Float64Array => {
      let least = 0;
      for (let v = 0; v < p.length; v += 3) if (Math.hypot(p[v] - x, p[v + 1] - y, p[v + 2] - z) < Math.hypot(p[least] - x, p[least + 1] - y, p[least + 2] - z)) least = v;
      return p.subarray(least, least + 3);
    };

    it.each([['below the heel', 0, 0, 5], ['behind the heel', -20, 0, 30], ['beside the heel', 35, 60, 30], ['in the ball', 190, 80, 20], ['in the sole', 40, 0, -10]])('a hole of 50 mm %s is none', (_where, x, y, z) => {
      const at = nearestTo(x, y, z);
      const cast = repair(cutAway({ positions: p, triangles: scan.triangles }, (a, b, c) => Math.hypot(a - at[0], b - at[1], c - at[2]) < 25));
      expectSound(cast);
      expect(cast.opening).toBeNull();
    });
  });

  it('fills a missing sole patch of 60 × 100 mm near the true sole, marks it and says it', () => {
    const cast = repair(cases[6][1]);
    expect(worstFill(cast)).toBeLessThan(4);
    expect(cast.repairs.areaFilled).toBeGreaterThan(5500);
    expect(cast.warnings.join()).toMatch(/hole of 6\d cm²/);
    const marked = cast.filled.reduce((sum, f) => sum + f, 0);
    expect(marked).toBeGreaterThan(100);
    expect(marked).toBeLessThan(0.5 * foot.positions.length / 3);
    const shares = cast.filled.filter((f, v) => f === 1 && cast.mesh.positions[3 * v + 2] < 15).length;
    expect(shares).toBe(marked);
  });

  it('says that a sole is not there', () => {
    expect(repair(cases[4][1]).warnings.join()).toContain('no sole');
  });
});
