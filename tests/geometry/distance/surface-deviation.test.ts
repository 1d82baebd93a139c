import { describe, expect, it } from 'vitest';
import { newNearestPoint } from '@cast-to-last/geometry/distance/bvh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { surfaceDeviation } from '@cast-to-last/geometry/distance/surface-deviation';
import { facingPoint, surfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import { cutTo } from '../../support/disturb.ts';
import { flipped, gridPlane, icosphere } from '../../support/meshes.ts';

describe('deviation of a surface from another', () => {
  it('is the difference of the radii between spheres, outside positive', () => {
    for (const [from, to] of [[20, 21], [20, 18.5]]) {
      const sphere = icosphere(to, 4);
      const found = surfaceDeviation(sphere.positions, vertexNormals(sphere), surfaceTarget(icosphere(from, 6)));
      expect(Math.max(...found.map((d) => Math.abs(d - (to - from))))).toBeLessThan(0.01);
    }
  });

  it('is none beyond the other surface\'s edge, out of reach, or where that faces the other way', () => {
    const half = surfaceTarget(cutTo(icosphere(20, 5), (_x, _y, z) => z > 0));
    const sphere = icosphere(20.5, 4);
    const found = surfaceDeviation(sphere.positions, vertexNormals(sphere), half);
    for (let v = 0; v < found.length; v++) {
      if (sphere.positions[3 * v + 2] > 1.5) expect(found[v]).toBeCloseTo(0.5, 1);
      if (sphere.positions[3 * v + 2] < -0.5) expect(found[v]).toBeNaN();
    }
    const far = icosphere(60, 2);
    expect([...surfaceDeviation(far.positions, vertexNormals(far), half)].every(Number.isNaN)).toBe(true);
    const turned = flipped(sphere);
    expect([...surfaceDeviation(turned.positions, vertexNormals(turned), half)].every(Number.isNaN)).toBe(true);
  });
});

describe('the facing point of a surface', () => {
  const plane = surfaceTarget(gridPlane(10, 10, 20));
  const near = newNearestPoint();

  it('is the foot of the plumb line, on inner edges of the mesh too', () => {
    for (const [x, y] of [[0, 0], [2, 4], [3.3, -7.1], [9.9, 0]]) {
      expect(facingPoint(plane, x, y, 3, near, 10)).toBe(true);
      expect([...near.point]).toEqual([expect.closeTo(x, 9), expect.closeTo(y, 9), expect.closeTo(0, 9)]);
    }
  });

  it('is none over the rim or past it, or out of reach', () => {
    for (const [x, y, z] of [[10, 3, 1], [10.1, 3, 0], [-12, -12, 2], [0, 0, 11]]) expect(facingPoint(plane, x, y, z, near, 10)).toBe(false);
  });
});
