import { describe, expect, it } from 'vitest';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { sampleSurface } from '@cast-to-last/geometry/remeshing/sample-surface';
import { box, icosphere, uvTorus } from '../../support/meshes.ts';

describe('samples of a surface', () => {
  it('lie on the sphere with its normals, and give its area', () => {
    const sphere = icosphere(10, 4);
    const { points, normals, area } = sampleSurface(sphere, 5000);
    expect(points.length).toBe(15000);
    expect(area).toBeCloseTo(surfaceArea(sphere), 9);
    for (let i = 0; i < points.length; i += 3) {
      expect(Math.hypot(points[i], points[i + 1], points[i + 2])).toBeGreaterThan(9.95);
      expect((points[i] * normals[i] + points[i + 1] * normals[i + 1] + points[i + 2] * normals[i + 2]) / 10).toBeGreaterThan(0.98);
    }
  });
  it('stand for equal areas, whether triangles are large or small', () => {
    // A torus has 1/2 + r / (π·R) of its area outside its centre line: Pappus.
    const { points } = sampleSurface(uvTorus(30, 10, 200, 100), 19_997);
    let outside = 0;
    for (let i = 0; i < points.length; i += 3) if (Math.hypot(points[i], points[i + 1]) > 30) outside++;
    expect(outside / 19_997).toBeCloseTo(0.5 + 10 / (Math.PI * 30), 2);
    const twelve = sampleSurface(box(2, 4, 8), 11200);
    let onTop = 0;
    let right = 0;
    for (let i = 0; i < twelve.points.length; i += 3) {
      if (twelve.normals[i + 2] !== 1) continue;
      onTop++;
      if (twelve.points[i] > 0.5) right++;
    }
    expect(Math.abs(onTop - 800)).toBeLessThan(3);
    expect(right / onTop).toBeCloseTo(0.25, 1);
  });
  it('are none without area, and the same ones every time', () => {
    expect(sampleSurface({ positions: new Float64Array(9), triangles: new Uint32Array([0, 1, 2]) }, 10)).toEqual({ points: new Float64Array(0), normals: new Float64Array(0), area: 0 });
    expect(sampleSurface(icosphere(10, 2), 100)).toEqual(sampleSurface(icosphere(10, 2), 100));
  });
});
