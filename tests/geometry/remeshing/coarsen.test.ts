import { describe, expect, it } from 'vitest';
import { cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { noisy } from '../../support/disturb.ts';
import { gridPlane, icosphere, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const at = (p: Float64Array, v: number): Float64Array => p.subarray(3 * v, 3 * v + 3);
const apart = (a: ArrayLike<number>, b: ArrayLike<number>): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe('coarsened surface', () => {
  it.each([['sphere', icosphere(50, 5), 6], ['sphere', icosphere(50, 5), 12], ['torus', uvTorus(40, 15, 160, 60), 5], ['sheet', gridPlane(80, 80, 100), 5]] as const)(
    'of a %s, spacing %#: each vertex is the mean of its cell, cells are as small and as few as asked for',
    (_, mesh, spacing) => {
      const { mesh: coarse, cellOf } = coarsen(mesh, spacing);
      const count = coarse.positions.length / 3;
      const sums = new Float64Array(4 * count);
      cellOf.forEach((c, v) => {
        for (let k = 0; k < 3; k++) sums[4 * c + k] += mesh.positions[3 * v + k];
        sums[4 * c + 3]++;
      });
      for (let c = 0; c < count; c++) {
        expect(sums[4 * c + 3]).toBeGreaterThan(0);
        for (let k = 0; k < 3; k++) expect(coarse.positions[3 * c + k]).toBeCloseTo(sums[4 * c + k] / sums[4 * c + 3], 9);
      }
      // A cell reaches less than `spacing` from its seed, so its mean lies within twice that of all of it.
      cellOf.forEach((c, v) => expect(apart(at(mesh.positions, v), at(coarse.positions, c))).toBeLessThan(2 * spacing));
      // Discs of radius `spacing` cover the surface; paths along edges are up to 1.2 times as long as straight ones, and
      // discs of half that spacing are no denser than hexagons.
      const area = surfaceArea(mesh);
      expect(count).toBeGreaterThan(area / (Math.PI * spacing ** 2));
      expect(count).toBeLessThan(1.1 * (area / ((Math.sqrt(3) / 2) * (spacing / 1.2) ** 2)));
      for (const v of coarse.triangles) expect(v).toBeLessThan(count);
    },
  );

  it.each([['sphere', icosphere(50, 5), 4], ['sphere', icosphere(50, 5), 9], ['torus', uvTorus(40, 15, 160, 60), 5]] as const)(
    'of a closed %s, spacing %#: at least 99 % of its edges have a triangle on both sides, and its area stays within 2 %',
    (_, mesh, spacing) => {
      const { mesh: coarse } = coarsen(mesh, spacing);
      const twin = twins(coarse);
      expect(twin.filter((h) => h >= 0).length / twin.length).toBeGreaterThan(0.99);
      expect(surfaceArea(coarse) / surfaceArea(mesh)).toBeGreaterThan(0.98);
      expect(surfaceArea(coarse) / surfaceArea(mesh)).toBeLessThan(1.001);
    },
  );

  it('lies inside a sphere by no more than the cells\' own bulge, spacing²/2r', () => {
    const [r, spacing] = [50, 6];
    const { mesh } = coarsen(icosphere(r, 5), spacing);
    for (let v = 0; v < mesh.positions.length; v += 3) {
      const inside = r - Math.hypot(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]);
      expect(inside).toBeGreaterThanOrEqual(-1e-9);
      expect(inside).toBeLessThan(spacing ** 2 / (2 * r));
    }
  });

  it('averages noise: over cells of some 20 vertices no more than a third is left (seed 1)', () => {
    const sheet = noisy(gridPlane(120, 120, 120), 0.2, rng(1));
    const { mesh, cellOf } = coarsen(sheet, 4);
    const perCell = cellOf.length / (mesh.positions.length / 3);
    expect(perCell).toBeGreaterThan(12);
    const z = mesh.positions.filter((_, i) => i % 3 === 2);
    const left = Math.sqrt(z.reduce((sum, h) => sum + h * h, 0) / z.length);
    expect(left).toBeLessThan(0.2 / 3);
    expect(left).toBeGreaterThan((0.5 * 0.2) / Math.sqrt(perCell));
  });

  it('of a mesh that is coarser than the spacing has the same vertices and triangles', () => {
    const mesh = icosphere(50, 3);
    const { mesh: same, cellOf } = coarsen(mesh, 2);
    expect(same.positions).toEqual(mesh.positions);
    expect([...cellOf]).toEqual([...cellOf.keys()]);
    const turned = (t: Uint32Array): string[] =>
      Array.from({ length: t.length / 3 }, (_, f) => {
        const c = [...t.subarray(3 * f, 3 * f + 3)];
        const k = c.indexOf(Math.min(...c));
        return [...c.slice(k), ...c.slice(0, k)].join(' ');
      }).sort();
    expect(turned(same.triangles)).toEqual(turned(mesh.triangles));
  });

  it('has what any vertex of a cell has', () => {
    expect([...cellsWith(Uint8Array.of(0, 1, 0, 0, 1), Uint32Array.of(0, 0, 1, 2, 2), 4)]).toEqual([1, 0, 1, 0]);
  });
});
