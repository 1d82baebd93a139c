import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { nearSurface } from '@cast-to-last/geometry/distance/near-surface';
import { rimShape } from '@cast-to-last/geometry/repair/rim-shape';
import type { RimShape } from '@cast-to-last/geometry/repair/rim-shape';
import { boundaryLoops, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { cutAway } from '../../support/foot-blob.ts';
import { gridPlane, icosphere, openCylinder } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const shapes = (mesh: Mesh): RimShape[] =>
  boundaryLoops(mesh).map((loop) => rimShape(mesh, vertexTriangles(mesh), loop) as RimShape);

describe('rimShape', () => {
  it('measures the ends of a tube', () => {
    const tube = openCylinder(30, 80, 200, 60);
    for (const shape of shapes(tube)) {
      const end = shape.centre[2] > 40 ? 1 : -1;
      expect(shape.normal[2]).toBeCloseTo(end, 9);
      expect(shape.tape / (2 * Math.PI * 30)).toBeCloseTo(1, 3);
      expect(shape.area / (Math.PI * 900)).toBeCloseTo(1, 3);
      expect(shape.aspect).toBeCloseTo(1, 3);
      expect(shape.unevenness).toBeLessThan(1e-9);
      expect(shape.steepness).toBeCloseTo(Math.PI / 2, 2);
    }
  });

  it('gives the aspect of an oval and ignores how ragged it is', () => {
    const tube = openCylinder(30, 80, 240, 60);
    const oval = { positions: tube.positions.map((c, i) => (i % 3 === 0 ? 2 * c : c)), triangles: tube.triangles };
    const ragged = cutAway(oval, (x, y, z) => z > 70 + 4 * Math.sin(0.8 * x + 1.7 * y));
    const [plain, torn] = [oval, ragged].map((mesh) => shapes(mesh).find((s) => s.centre[2] > 40) as RimShape);
    expect(plain.aspect).toBeCloseTo(2, 2);
    expect(torn.aspect).toBeCloseTo(2, 1);
    expect(torn.tape / plain.tape).toBeCloseTo(1, 1);
    expect(torn.unevenness).toBeGreaterThan(1);
    expect(torn.steepness).toBeGreaterThan(1.4);
  });

  it('tells a hole in a plane from a cap cut off a ball', () => {
    const sheet = cutAway(gridPlane(60, 60, 60), (x, y) => Math.hypot(x, y) < 10);
    const flat = shapes(sheet).filter((s) => s.area < 1000 && s.area > 0)[0];
    expect(flat.steepness).toBeCloseTo(0, 6);
    const ball = cutAway(icosphere(40, 6), (_x, _y, z) => z > 20);
    expect(shapes(ball)[0].steepness).toBeGreaterThan((60 * Math.PI) / 180 - 0.05);
    expect(shapes(ball)[0].steepness).toBeLessThan((60 * Math.PI) / 180 + 0.1);
  });
});

describe('nearSurface', () => {
  it('agrees with the distance to a sphere (seed 66)', () => {
    const random = rng(66);
    const ball = icosphere(50, 5);
    const offsets = Array.from({ length: 500 }, () => random.range(-3, 3));
    const points = Float64Array.from(offsets.flatMap((d) => random.direction().map((c) => (50 + d) * c)));
    const near = nearSurface(points, ball, 1);
    offsets.forEach((d, i) => {
      if (Math.abs(Math.abs(d) - 1) > 0.05) expect(near[i]).toBe(Math.abs(d) < 1 ? 1 : 0);
    });
  });

  it('sees faces, edges and corners of large triangles', () => {
    const one = { positions: new Float64Array([0, 0, 0, 100, 0, 0, 0, 100, 0]), triangles: new Uint32Array([0, 1, 2]) };
    const points = new Float64Array([30, 30, 0.9, 30, 30, 1.1, 50, -0.9, 0, 50, -1.1, 0, -0.6, -0.6, 0, -0.8, -0.8, 0, 50.6, 50.6, 0, 50.8, 50.8, 0]);
    expect(Array.from(nearSurface(points, one, 1))).toEqual([1, 0, 1, 0, 1, 0, 1, 0]);
  });
});
