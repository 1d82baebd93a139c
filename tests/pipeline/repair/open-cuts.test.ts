import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { cutAway, footBlob } from '../../support/foot-blob.ts';
import { flipped } from '../../support/meshes.ts';
import { expectSound, meanHeight, repair, worstFill } from '../../support/repaired.ts';

const leg = cutAway(footBlob(6), (_x, _y, z) => z > 130);
/** Cut open along the top and up the front of the leg into the opening. */
const slit = (mesh: Mesh, half: number): Mesh => cutAway(mesh, (x, y, z) => x > 55 && x < 175 && z > 22 && Math.abs(y - 4) < half);

describe('a cut that stands open up to the opening', () => {
  it.each([['narrow', 0.8], ['wide', 3.5]])('%s: the opening stays open, and the cut is closed near the true surface', (_name, half) => {
    const open = slit(leg, half);
    const cast = repair(open, 'inside');
    expectSound(cast);
    expect(meanHeight(cast)).toBeGreaterThan(122);
    expect(cast.repairs.holesFilled).toBe(1);
    expect(worstFill(cast)).toBeLessThan(1);
    expect(cast.openCuts).toHaveLength(1);
    const edges = cast.openCuts[0];
    expect(Math.max(...edges.filter((_, i) => i % 3 === 0))).toBeGreaterThan(160);
    expect(Math.max(...edges.filter((_, i) => i % 3 === 2))).toBeGreaterThan(118);
  });

  it('is closed on a positive, too, but no cut there: the scanner missed a strip', () => {
    const cast = repair(slit(leg, 2));
    expectSound(cast);
    expect(meanHeight(cast)).toBeGreaterThan(122);
    expect(cast.openCuts).toEqual([]);
  });

  it('is the same on a scan that faces inward', () => {
    const open = slit(leg, 2);
    const turned = repair(flipped(open), 'inside');
    expectSound(turned);
    expect(turned.openCuts).toHaveLength(1);
  });

  it('is none where the cut was closed, nor where a hole lies beside the opening', () => {
    expect(repair(leg, 'inside').openCuts).toEqual([]);
    const holed = cutAway(leg, (x, y, z) => Math.hypot(x - 120, y - 8, z - 60) < 14);
    const cast = repair(holed, 'inside');
    expect(cast.openCuts).toEqual([]);
    expect(cast.repairs.holesFilled).toBe(1);
  });

  it('is closed, but no gap is told where one flap lies over the other', () => {
    const open = slit(leg, 0.8);
    const normals = vertexNormals(open);
    const flapped = (over: number): Mesh => ({
      ...open,
      positions: open.positions.map((c, i, p) => {
        const [x, y, z] = p.subarray(i - (i % 3), i - (i % 3) + 3);
        if (y < 4 || x < 55 || z < 22) return c;
        const share = Math.max(0, 1 - (y - 4) / 40) * Math.min(1, Math.max(0, 175 - x) / 40);
        return c + share * ((i % 3 === 1 ? -over : 0) + 3 * normals[i]);
      }),
    });
    const lapping = repair(flapped(8), 'inside');
    expectSound(lapping);
    expect(meanHeight(lapping)).toBeGreaterThan(120);
    expect(lapping.openCuts).toEqual([]);
    expect(repair(flapped(0), 'inside').openCuts).toHaveLength(1);
  });
});
