import { describe, expect, it } from 'vitest';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { Solid } from '@cast-to-last/geometry/solids/solid';
import { signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { box, closedCylinder, flipped, gridPlane, icosphere, merged, openCylinder, uvTorus } from '../../support/meshes.ts';

const code = (wanted: string): unknown => expect.objectContaining({ name: 'SolidError', code: wanted });

describe('solids', () => {
  it.each([
    ['sphere', icosphere(20, 3), 0],
    ['torus', uvTorus(30, 10, 40, 24), 1],
    ['cylinder', closedCylinder(10, 30, 24, 4), 0],
    ['box', box(10, 20, 30, 3), 0],
  ])('%s: volume and area as by our own sums, genus as by theory', async (_, mesh, genus) => {
    const found = await withSolids((scope) => {
      const solid = scope.ofMesh(mesh);
      return { volume: solid.volume, area: solid.area, genus: solid.genus, bounds: solid.bounds };
    });
    expect(found.volume / signedVolume(mesh)).toBeCloseTo(1, 6);
    expect(found.area / surfaceArea(mesh)).toBeCloseTo(1, 6);
    expect(found.genus).toBe(genus);
    const own = mesh.positions.reduce((most, c) => Math.max(most, c), -Infinity);
    expect(Math.max(...found.bounds)).toBeCloseTo(own, 5);
  });
  it('gives back a closed mesh with the same surface', async () => {
    const mesh = icosphere(50, 3);
    const back = await withSolids((scope) => scope.ofMesh(mesh).toMesh());
    expect(back.triangles.length).toBe(mesh.triangles.length);
    expect(back.positions.length).toBe(mesh.positions.length);
    expect(twins(back).every((h) => h >= 0)).toBe(true);
    expect(signedVolume(back) / signedVolume(mesh)).toBeCloseTo(1, 6);
  });
  it('cuts by a plane, keeps the side the normal points to, and closes it', async () => {
    const { up, down, mesh } = await withSolids((scope) => {
      const ball = scope.ofMesh(icosphere(10, 5));
      const top = ball.trimByPlane([0, 0, 3], 4);
      return { up: top.volume, down: ball.trimByPlane([0, 0, -1], -4).volume, mesh: top.toMesh() };
    });
    // Cap of height 6 on a sphere of radius 10: π·h²·(3r − h) / 3.
    expect(up / ((Math.PI * 36 * 24) / 3)).toBeCloseTo(1, 2);
    expect((up + down) / ((4 / 3) * Math.PI * 1000)).toBeCloseTo(1, 2);
    expect(twins(mesh).every((h) => h >= 0)).toBe(true);
    expect(mesh.positions.filter((_, i) => i % 3 === 2).every((z) => z > 4 - 1e-5)).toBe(true);
  });
  it('a level set of a distance is the ball of that distance, closed where the box cuts it', async () => {
    const distance = (x: number, y: number, z: number): number => 20 - Math.hypot(x, y, z);
    const { whole, half, none } = await withSolids((scope) => {
      const box = [-25, -25, -25, 25, 25, 25];
      const ball = scope.levelSet(distance, box, 1, 5);
      return {
        whole: { volume: ball.volume, mesh: ball.toMesh() },
        half: scope.levelSet(distance, [-25, -25, 0, 25, 25, 25], 1, 5).toMesh(),
        none: scope.levelSet(distance, box, 1, 30).isEmpty,
      };
    });
    expect(whole.volume / ((4 / 3) * Math.PI * 15 ** 3)).toBeCloseTo(1, 2);
    for (let i = 0; i < whole.mesh.positions.length; i += 3) expect(Math.abs(Math.hypot(...whole.mesh.positions.subarray(i, i + 3)) - 15)).toBeLessThan(0.05);
    expect(twins(half).every((h) => h >= 0)).toBe(true);
    expect(signedVolume(half) / whole.volume).toBeCloseTo(0.5, 2);
    expect(none).toBe(true);
  });
  it('is simplified to fewer triangles that lie within the tolerance, on vertices that it had', async () => {
    const mesh = icosphere(30, 5);
    const fewer = await withSolids((scope) => scope.ofMesh(mesh).simplified(0.1).toMesh());
    expect(fewer.triangles.length).toBeLessThan(mesh.triangles.length / 3);
    expect(twins(fewer).every((h) => h >= 0)).toBe(true);
    for (let i = 0; i < fewer.positions.length; i += 3) expect(Math.abs(Math.hypot(...fewer.positions.subarray(i, i + 3)) - 30)).toBeLessThan(1e-4);
    for (let t = 0; t < fewer.triangles.length; t += 3) {
      const middle = [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, c) => sum + fewer.positions[3 * fewer.triangles[t + c] + k] / 3, 0));
      expect(30 - Math.hypot(...middle)).toBeLessThan(0.2);
    }
  });
  it('the hull of two boxes apart is the box round both', async () => {
    const volume = await withSolids((scope) => scope.box([0, 0, 0], [1, 1, 1]).union(scope.box([4, 0, 0], [5, 1, 1])).hull().volume);
    expect(volume).toBeCloseTo(5, 6);
  });
  it('joins, takes away, intersects and takes apart', async () => {
    const volumes = await withSolids((scope) => {
      const a = scope.box([0, 0, 0], [2, 2, 2]);
      const b = scope.box([1, 1, 1], [3, 3, 3]);
      const far = scope.ofMesh(merged(box(1, 1, 1), { ...box(3, 3, 3), positions: box(3, 3, 3).positions.map((c) => c + 10) }));
      const prism = scope.cylinder(1, 5, 6).volume;
      return { union: a.union(b).volume, less: a.subtract(b).volume, both: a.intersect(b).volume, pieces: far.decompose().map((p) => p.volume), prism, empty: a.trimByPlane([1, 0, 0], 9).isEmpty };
    });
    expect(volumes.union).toBeCloseTo(15, 5);
    expect(volumes.less).toBeCloseTo(7, 5);
    expect(volumes.both).toBeCloseTo(1, 5);
    expect(volumes.pieces).toEqual([expect.closeTo(27, 4), expect.closeTo(1, 4)]);
    expect(volumes.prism).toBeCloseTo(((6 / 2) * Math.sin(Math.PI / 3)) * 5, 5);
    expect(volumes.empty).toBe(true);
  });
  it('makes a prism of what overlapping outlines cover', async () => {
    const square = (x: number, y: number, a: number): Float64Array => new Float64Array([x, y, x + a, y, x + a, y + a, x, y + a]);
    const found = await withSolids((scope) => {
      const two = scope.prism([square(0, 0, 2), square(1, 1, 2)], 3);
      const apart = scope.prism([square(0, 0, 1), square(5, 0, 1)], 2);
      return { volume: two.volume, genus: two.genus, bounds: [...two.bounds], pieces: apart.decompose().length, none: scope.prism([], 1).isEmpty };
    });
    expect(found.volume).toBeCloseTo((4 + 4 - 1) * 3, 5);
    expect(found.genus).toBe(0);
    expect(found.bounds).toEqual([0, 0, 0, 3, 3, 3]);
    expect(found.pieces).toBe(2);
    expect(found.none).toBe(true);
  });
  it('moves and turns by a map as positions are mapped', async () => {
    const mesh = box(10, 20, 30, 1);
    const turned = new Float64Array([0, -1, 0, 5, 1, 0, 0, -7, 0, 0, 1, 11, 0, 0, 0, 1]);
    const found = await withSolids((scope) => {
      const solid = scope.ofMesh(mesh).transform(turned);
      return { bounds: solid.bounds, volume: solid.volume };
    });
    expect([...found.bounds]).toEqual([...bounds(transformPositions(turned, mesh.positions))].map((c) => expect.closeTo(c, 4)));
    expect(found.volume).toBeCloseTo(6000, 2);
  });
  it('joins many at once, and none to nothing', async () => {
    const found = await withSolids((scope) => ({
      row: scope.union([0, 1, 2, 3].map((i) => scope.box([1.5 * i, 0, 0], [1.5 * i + 2, 1, 1]))).volume,
      none: scope.union([]).isEmpty,
    }));
    expect(found.row).toBeCloseTo(6.5, 5);
    expect(found.none).toBe(true);
  });
  it.each([
    ['an open cylinder', openCylinder(10, 20, 12, 2), 'not-manifold'],
    ['a sheet', gridPlane(3, 3, 10), 'not-manifold'],
    ['one triangle turned round', (() => { const m = icosphere(5, 1); return { ...m, triangles: m.triangles.map((v, i, all) => (i === 1 ? all[2] : i === 2 ? all[1] : v)) }; })(), 'not-manifold'],
    ['a sphere inside out', flipped(icosphere(5, 2)), 'inside-out'],
    ['NaN', (() => { const m = icosphere(5, 1); return { ...m, positions: m.positions.map((c, i) => (i === 7 ? NaN : c)) }; })(), 'not-finite'],
    ['an index beyond the vertices', { ...icosphere(5, 0), triangles: icosphere(5, 0).triangles.map((v) => v + 1) }, 'bad-index'],
    ['nothing', { positions: new Float64Array(0), triangles: new Uint32Array(0) }, 'empty'],
  ])('refuses: %s', async (_, mesh, wanted) => {
    await expect(withSolids((scope) => scope.ofMesh(mesh))).rejects.toThrow(code(wanted));
  });
  it('works on after a refusal, and frees what it made: 200 spheres in turn need little more room than 20', async () => {
    await expect(withSolids((scope) => scope.ofMesh(gridPlane(2, 2, 1)))).rejects.toThrow(code('not-manifold'));
    const mesh = icosphere(10, 4);
    const rounds = async (n: number): Promise<number> => {
      for (let i = 0; i < n; i++) await withSolids((scope) => scope.ofMesh(mesh).trimByPlane([0, 0, 1], 0).volume);
      return process.memoryUsage().rss;
    };
    const early = await rounds(20);
    expect((await rounds(180)) - early).toBeLessThan(60e6);
  });
  it('a solid does not outlive its scope, nor cross into another', async () => {
    let out: Solid | undefined;
    await withSolids((scope) => { out = scope.box([0, 0, 0], [1, 1, 1]); });
    expect(() => out?.volume).toThrow();
    await expect(withSolids((scope) => scope.box([0, 0, 0], [1, 1, 1]).union(out as Solid))).rejects.toThrow('outside the scope');
  });
  it('same mesh, same bytes', async () => {
    const once = (): Promise<unknown> => withSolids((scope) => scope.ofMesh(uvTorus(30, 10, 40, 24)).trimByPlane([1, 2, 3], 1).toMesh());
    expect(await once()).toEqual(await once());
  });
});
