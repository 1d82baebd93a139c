import { beforeAll, describe, expect, it } from 'vitest';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { makePrint } from '@cast-to-last/pipeline/making/make-print';
import { makingRules } from '@cast-to-last/pipeline/rules/making-rules';
import { makePhantom } from '../phantoms/make-phantom.js';
import { admesh } from '../support/admesh.js';

/** Reference: admesh 0.98 (Debian), an STL checker that shares nothing with this program. Normals are left out: cuts leave slivers. */

const SEEDS = [7, 19, 23];

describe.each(SEEDS)('pieces of the last of the phantom of seed %d', (seed) => {
  let last: Mesh;
  beforeAll(async () => {
    const { clean } = makePhantom(seed, { triangles: 20_000, denseTriangles: 40_000, posed: false, top: 'cut', dents: 0, bumps: 0, ridges: 0, seam: false }).truth;
    const closed = capLoop(clean, boundaryLoops(clean)[0]);
    last = await withSolids((scope) => scope.ofMesh(closed).trimByPlane([0, 0, -1], -70).toMesh());
  }, 60_000);

  it.each([
    ['hollow in one piece', { body: 'hollow', wallMm: 3 }],
    ['solid by a wedge', { split: { by: 'wedge' } }],
    ['hollow by a plane', { body: 'hollow', split: { by: 'plane', leanDeg: 25 } }],
    ['hollow by a wedge, on a small bed', { body: 'hollow', wallMm: 5, split: { by: 'wedge' }, bedMm: [90, 90, 120] }],
  ])('%s are each one closed part without a fault, of the volume that is reported', async (_, print) => {
    const { pieces } = await makePrint(last, makingRules.parse({ print }).print);
    expect(selfCrossings(last).includes(1)).toBe(false);
    for (const { stl, volume, plan, mesh } of pieces) {
      expect([plan.name, selfCrossings(mesh).includes(1)]).toEqual([plan.name, false]);
      const verdict = admesh(stl);
      expect([plan.name, verdict.parts, verdict.faults]).toEqual([plan.name, 1, 0]);
      expect(Math.abs(verdict.volume / volume - 1)).toBeLessThan(2e-4);
    }
  }, 120_000);
});
