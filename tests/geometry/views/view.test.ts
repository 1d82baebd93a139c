import { describe, expect, it } from 'vitest';
import { depthContours, silhouette } from '@cast-to-last/geometry/views/contour-lines';
import type { PaperLine } from '@cast-to-last/geometry/views/contour-lines';
import { viewMesh, visiblePoints } from '@cast-to-last/geometry/views/view';
import type { ViewAxes } from '@cast-to-last/geometry/views/view';
import { box, icosphere, uvTorus } from '../../support/meshes.js';

const above: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const below: ViewAxes = { right: [1, 0, 0], up: [0, -1, 0] };
const side: ViewAxes = { right: [1, 0, 0], up: [0, 0, 1] };

function signedArea({ points: p }: PaperLine): number {
  let sum = 0;
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    sum += p[i] * p[j + 1] - p[j] * p[i + 1];
  }
  return sum / 2;
}

const radii = ({ points: p }: PaperLine): number[] => Array.from({ length: p.length / 2 }, (_, i) => Math.hypot(p[2 * i], p[2 * i + 1]));

describe('silhouette', () => {
  it('of a sphere is its great circle, whichever way one looks', () => {
    const sphere = icosphere(50, 5);
    for (const axes of [above, below, side]) {
      const lines = silhouette(viewMesh(sphere, axes, 0.5));
      expect(lines).toHaveLength(1);
      expect(lines[0].closed).toBe(true);
      for (const r of radii(lines[0])) expect(Math.abs(r - 50)).toBeLessThan(0.4);
      expect(Math.abs(signedArea(lines[0]) - Math.PI * 2500)).toBeLessThan(0.005 * Math.PI * 2500);
    }
  });

  it('of a torus seen along its axis has the hole, wound the other way', () => {
    const [outer, inner, ...others] = silhouette(viewMesh(uvTorus(40, 10, 96, 48), above, 0.5));
    expect(others).toEqual([]);
    expect(signedArea(outer)).toBeGreaterThan(0);
    expect(signedArea(inner)).toBeLessThan(0);
    for (const r of radii(outer)) expect(Math.abs(r - 50)).toBeLessThan(0.5);
    for (const r of radii(inner)) expect(Math.abs(r - 30)).toBeLessThan(0.5);
  });

  it('of a torus seen from the side has no hole', () => {
    const lines = silhouette(viewMesh(uvTorus(40, 10, 96, 48), side, 0.5));
    expect(lines).toHaveLength(1);
    expect(Math.abs(signedArea(lines[0]) - (80 * 20 + Math.PI * 100))).toBeLessThan(25);
  });

  it('of a box is its rectangle, in few points', () => {
    const [line] = silhouette(viewMesh(box(80, 30, 20, 6), above, 0.5));
    expect(Math.abs(signedArea(line) - 2400)).toBeLessThan(60);
    expect(line.points.length / 2).toBeLessThan(20);
  });
});

describe('depthContours', () => {
  it('of a sphere 30 mm above its centre is the small circle of 40 mm', () => {
    const lines = depthContours(viewMesh(icosphere(50, 5), above, 0.5), [30])[0];
    expect(lines).toHaveLength(1);
    for (const r of radii(lines[0])) expect(Math.abs(r - 40)).toBeLessThan(0.15);
  });

  it('gives the lines of each of many depths as if it were asked for alone', () => {
    const view = viewMesh(box(80, 30, 20, 6), { right: [0.8, 0.6, 0], up: [-0.36, 0.48, 0.8] }, 0.5);
    const depths = [-20, -10, -9.5, 0, 3, 10, 10.25, 25, 90];
    const together = depthContours(view, depths);
    expect(together.map((lines) => lines.length > 0)).toEqual([true, true, true, true, true, true, true, true, false]);
    depths.forEach((depth, i) => expect(together[i]).toEqual(depthContours(view, [depth])[0]));
  });

  it('is empty where the surface does not reach', () => {
    expect(depthContours(viewMesh(icosphere(50, 3), above, 1), [51])).toEqual([[]]);
  });
});

describe('visiblePoints', () => {
  it('tells the near side from the far side', () => {
    const view = viewMesh(icosphere(50, 4), side, 0.5);
    const points = new Float64Array([0, -50, 0, 0, 50, 0, 0, -30, 0, 100, 0, 0]);
    expect([...visiblePoints(view, points, 2)]).toEqual([1, 0, 0, 1]);
  });
});

describe('viewMesh', () => {
  it('refuses an empty mesh', () => {
    expect(() => viewMesh({ positions: new Float64Array(0), triangles: new Uint32Array(0) }, above, 1)).toThrow(RangeError);
  });
});
