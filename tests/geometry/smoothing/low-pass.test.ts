import { describe, expect, it } from 'vitest';
import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import { meanEdgeLength, signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { BOUNDARY, nextHalfedge, twins } from '@cast-to-last/geometry/mesh/topology';
import { noisy } from '../../support/disturb.ts';
import { gridPlane, icosphere, openCylinder } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const radii = (p: Float64Array): number[] => Array.from({ length: p.length / 3 }, (_, v) => Math.hypot(p[3 * v], p[3 * v + 1], p[3 * v + 2]));
const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, e) => sum + e * e, 0) / values.length);

describe('low-pass filter', () => {
  it('keeps a sphere: every radius within 0.02 mm of 50, the volume within a thousandth', () => {
    const sphere = icosphere(50, 5);
    const out = lowPass(sphere, 3);
    expect(out.triangles).toBe(sphere.triangles);
    expect(out.positions).not.toEqual(sphere.positions);
    for (const r of radii(out.positions)) expect(Math.abs(r - 50)).toBeLessThan(0.02);
    expect(Math.abs(signedVolume(out) / signedVolume(sphere) - 1)).toBeLessThan(1e-3);
  });

  it.each([1, 2])('at edges of 1.8 mm takes radial noise of 0.1 mm down to 80, 55 and 45 % by blurs of 1, 2 and 4 mm (seed %i)', (seed) => {
    const sphere = icosphere(50, 5);
    const rough = noisy(sphere, 0.1, rng(seed));
    const left = [1, 2, 4].map((length) => rms(radii(lowPass(rough, length).positions).map((r) => r - 50)));
    expect(left[0]).toBeLessThan(0.08);
    expect(left[1]).toBeLessThan(0.055);
    expect(left[2]).toBeLessThan(0.045);
  });

  it('does not touch the boundary', () => {
    for (const mesh of [gridPlane(30, 30, 30), openCylinder(20, 40, 60, 20)]) {
      const rough = noisy(mesh, 0.1, rng(3));
      const out = lowPass(rough, 2);
      const rim = new Set<number>();
      twins(mesh).forEach((g, h) => g === BOUNDARY && rim.add(mesh.triangles[h]).add(mesh.triangles[nextHalfedge(h)]));
      let still = 0;
      for (let v = 0; v < mesh.positions.length / 3; v++) {
        const same = [0, 1, 2].every((k) => out.positions[3 * v + k] === rough.positions[3 * v + k]);
        expect(same).toBe(rim.has(v));
        still += +same;
      }
      expect(still).toBe(120);
    }
  });

  it('gives back a mesh whose edges are three times as long as the blur, and leaves the given one alone', () => {
    const sphere = icosphere(50, 3);
    expect(lowPass(sphere, meanEdgeLength(sphere) / 3)).toBe(sphere);
    const before = sphere.positions.slice();
    lowPass(sphere, 2 * meanEdgeLength(sphere));
    expect(sphere.positions).toEqual(before);
  });
});
