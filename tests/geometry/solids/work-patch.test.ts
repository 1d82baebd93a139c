import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { workPatch } from '@cast-to-last/geometry/solids/work-patch';
import { icosphere } from '../../support/meshes.ts';

const RADIUS = 20;
const ball = (): Mesh => {
  const { positions, triangles } = icosphere(RADIUS, 5);
  return { positions: new Float64Array(new Float32Array(positions)), triangles };
};

/** The triangles all of whose corners lie above a height. */
const above = ({ positions: p, triangles: t }: Mesh, z: number): Uint32Array =>
  Uint32Array.from({ length: t.length / 3 }, (_, f) => f).filter((f) => [0, 1, 2].every((k) => p[3 * t[3 * f + k] + 2] > z));

const DOWN = [0, 0, -12] as const;
const raised = (z: number) => new Float64Array([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, z, 0, 0, 0, 1]);
const hole = (scope: SolidScope): Solid => scope.cylinder(3, 10, 24).transform(raised(RADIUS - 6));

describe('workPatch', () => {
  it('makes the solid that work on the whole makes, and leaves all else bit for bit', async () => {
    const mesh = ball();
    const drill = (scope: SolidScope) => (solid: Solid): Solid => solid.subtract(hole(scope));
    const [whole, patched, volume] = await withSolids((scope) => {
      const found = workPatch(scope, mesh, above(mesh, 16), DOWN, drill(scope));
      if (found === null) throw new Error('the edge did not stay');
      return [drill(scope)(scope.ofMesh(mesh)).volume, found, scope.ofMesh(found).volume];
    });
    expect(Math.abs(volume - whole)).toBeLessThan(1e-4 * whole);
    expect(volume).toBeLessThan((4 / 3) * Math.PI * RADIUS ** 3 - 100);
    const places = ({ positions }: Mesh): string[] => Array.from({ length: positions.length / 3 }, (_, v) => String(positions.subarray(3 * v, 3 * v + 3)));
    const kept = new Set(places(patched));
    expect(places(mesh).filter((place) => Number(place.split(',')[2]) < 16 && !kept.has(place))).toEqual([]);
  });

  it('joins what stands on the patch, too', async () => {
    const mesh = ball();
    const stud = (scope: SolidScope): Solid => scope.cylinder(2, 6, 24).transform(raised(RADIUS - 3));
    const [patched, whole] = await withSolids((scope) => {
      const found = workPatch(scope, mesh, above(mesh, 16), DOWN, (solid) => solid.union(stud(scope)));
      return [found === null ? NaN : scope.ofMesh(found).volume, scope.ofMesh(mesh).union(stud(scope)).volume];
    });
    expect(Math.abs(patched - whole)).toBeLessThan(1e-4 * whole);
  });

  it('finds none where the work reaches the edge of the patch', async () => {
    const mesh = ball();
    const found = await withSolids((scope) => workPatch(scope, mesh, above(mesh, 19.8), DOWN, (solid) => solid.subtract(hole(scope))));
    expect(found).toBeNull();
  });
});
