import { beforeAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { invertRigid, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { flatTop } from '@cast-to-last/pipeline/repair/flat-top';
import { alignCast } from '@cast-to-last/pipeline/stages/align';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import { icosphere } from '../../support/meshes.ts';
import { foot, openFoot, repair } from '../../support/repaired.ts';
import { rng } from '../../support/rng.ts';

const plain = { triangles: 20_000, denseTriangles: 8000, side: 'right', top: 'capped', posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false } as const;

/** What of a body in its foot frame lies below a plane at `height` over x = 60, level or sloping down to the toes, closed by it. */
const cutAt = (body: Mesh, height: number, slopeDeg = 0): Promise<Mesh> => {
  const [s, c] = [Math.sin((slopeDeg * Math.PI) / 180), Math.cos((slopeDeg * Math.PI) / 180)];
  return withSolids((scope) => scope.ofMesh(body).trimByPlane([-s, 0, -c], -60 * s - height * c).toMesh());
};

describe('flatTop', () => {
  it.each([[70, 0], [110, 0], [110, 15], [110, -15]])('is the cap that closes a foot at %i mm, sloping by %i°', async (height, slope) => {
    const up = flatTop(await cutAt(foot, height, slope));
    const a = (slope * Math.PI) / 180;
    expect(dot(up ?? [0, 0, 0], [Math.sin(a), 0, Math.cos(a)])).toBeGreaterThan(Math.cos(Math.PI / 90));
  });

  it('is none on an open foot, on a ball, and on a foot whose sole alone is flat', async () => {
    expect(flatTop(openFoot)).toBeNull();
    expect(flatTop(icosphere(100, 4))).toBeNull();
    const round = { positions: foot.positions.map((c, i) => (i % 3 === 2 ? Math.max(8, c) : c)), triangles: foot.triangles };
    expect(flatTop(round)).toBeNull();
  });

  it('is the cap where the sole is flat, too', async () => {
    const flat = { positions: foot.positions.map((c, i) => (i % 3 === 2 ? Math.max(8, c) : c)), triangles: foot.triangles };
    expect((flatTop(await cutAt(flat, 90)) ?? [0, 0, 0])[2]).toBeGreaterThan(0.999);
  });
});

describe.each([[103, 'sections', 55], [107, 'blunt', 55], [113, 'blunt', 60]] as const)('a foot cut low and capped (seed %i, %s, %i mm)', (seed, family, height) => {
  let low: Mesh;
  beforeAll(async () => {
    const { scan, truth } = makePhantom(seed, { ...plain, family });
    low = await cutAt({ positions: transformPositions(truth.transform, scan.positions), triangles: scan.triangles }, height);
  });

  it('stands on its sole and not on its cap', () => {
    const r = rng(seed).rotation();
    const pose = new Float64Array([r[0], r[1], r[2], 0, r[3], r[4], r[5], 0, r[6], r[7], r[8], 0, 0, 0, 0, 1]);
    const { transform } = alignCast(repair(transformMesh(pose, low)), 'right');
    const up = transformPositions(invertRigid(pose), transform.slice(8, 11));
    expect(up[2]).toBeGreaterThan(0.98);
  });
});
