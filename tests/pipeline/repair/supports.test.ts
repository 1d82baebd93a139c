import { describe, expect, it } from 'vitest';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { splitLongEdges } from '@cast-to-last/geometry/remeshing/split-long-edges';
import { bodyDistance } from '../../support/foot-blob.ts';
import { expectSound, foot, meanHeight, openFoot, repair } from '../../support/repaired.ts';

/** The foot, cut open at the top or capped, on what `under` makes; its triangles as fine as a scan's. */
async function standing(under: (scope: SolidScope) => readonly Solid[], cut: number): Promise<Mesh> {
  const joined = await withSolids((scope) => scope.union([scope.ofMesh(foot), ...under(scope)]).trimByPlane([0, 0, -1], -cut).toMesh());
  return splitLongEdges(splitLongEdges(joined, 8).mesh, 4).mesh;
}

const peg = (scope: SolidScope, x: number, y: number, radius: number, from: number, to: number): Solid => {
  const at = identity();
  [at[3], at[7], at[11]] = [x, y, from];
  return scope.cylinder(radius, to - from, 32).transform(at);
};

const lowest = ({ positions }: Mesh): number => positions.reduce((least, c, i) => (i % 3 === 2 ? Math.min(least, c) : least), Infinity);
/** How far the surface lies off the body of the foot at the most, below a height. */
const farthestOff = ({ positions: p }: Mesh, below: number): number => {
  let most = 0;
  for (let v = 0; v < p.length; v += 3) if (p[v + 2] < below) most = Math.max(most, Math.abs(bodyDistance(p[v], p[v + 1], p[v + 2])));
  return most;
};

describe('what a cast stands on', () => {
  it.each<[string, (scope: SolidScope) => readonly Solid[]]>([
    ['three pegs', (scope) => [peg(scope, 35, 0, 8, -30, 8), peg(scope, 185, 20, 8, -30, 8), peg(scope, 180, -22, 8, -30, 8)]],
    ['two blocks', (scope) => [scope.box([20, -20, -25], [60, 20, 5]), scope.box([160, -30, -25], [195, 30, 5])]],
    ['a plate', (scope) => [peg(scope, 60, 0, 90, -2, 4)]],
  ])('as %s is cut away and said, and the sole closed near its own', async (_what, under) => {
    const cast = repair(await standing(under, 110));
    expectSound(cast);
    expect(cast.warnings.join()).toContain('pegs, blocks or a plate');
    expect(cast.opening).toBeNull();
    expect(lowest(cast.mesh)).toBeGreaterThan(-3);
    expect(farthestOff(cast.mesh, 60)).toBeLessThan(4);
  });

  it('is found on a fine scan', async () => {
    const coarse = await standing((scope) => [peg(scope, 35, 0, 8, -30, 8), peg(scope, 185, 20, 8, -30, 8), peg(scope, 180, -22, 8, -30, 8)], 110);
    const fine = splitLongEdges(splitLongEdges(coarse, 2.5).mesh, 1.5).mesh;
    expect(repair(fine).warnings.join()).toContain('pegs, blocks or a plate');
  });

  it('is nothing where it stands on its sole, round or flat, nor is the rod on its top', async () => {
    const flat = await withSolids((scope) => scope.ofMesh(foot).trimByPlane([0, 0, 1], 5).trimByPlane([0, 0, -1], -80).toMesh());
    const rod = await withSolids((scope) => scope.union([scope.ofMesh(foot).trimByPlane([0, 0, -1], -110), peg(scope, 45, 0, 8, 80, 180)]).toMesh());
    for (const mesh of [foot, openFoot, flat, rod]) {
      const cast = repair(mesh);
      expect(cast.warnings.join()).not.toContain('pegs');
      expect(cast.repairs.trianglesDropped).toBe(0);
    }
    expect(meanHeight(repair(openFoot))).toBeGreaterThan(120);
  });
});
