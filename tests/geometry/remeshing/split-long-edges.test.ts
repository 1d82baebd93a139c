import { describe, expect, it } from 'vitest';
import { eulerCharacteristic, meanEdgeLength, signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { splitLongEdges } from '@cast-to-last/geometry/remeshing/split-long-edges';
import { nextHalfedge, twins } from '@cast-to-last/geometry/mesh/topology';
import { box, icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const longestEdge = ({ positions: p, triangles: t }: ReturnType<typeof box>): number =>
  Math.max(...Array.from(t, (a, h) => Math.hypot(...[0, 1, 2].map((k) => p[3 * a + k] - p[3 * t[nextHalfedge(h)] + k]))));

describe('splitting long edges', () => {
  it('halves every long one until none is left, on the same surface', () => {
    let mesh = box(40, 20, 10);
    const [area, volume] = [surfaceArea(mesh), signedVolume(mesh)];
    for (let round = 0; round < 20 && longestEdge(mesh) > 3; round++) mesh = splitLongEdges(mesh, 3).mesh;
    expect(longestEdge(mesh)).toBeLessThanOrEqual(3);
    expect(surfaceArea(mesh)).toBeCloseTo(area, 8);
    expect(signedVolume(mesh)).toBeCloseTo(volume, 8);
    const twin = twins(mesh);
    expect(twin.some((h) => h < 0)).toBe(false);
    expect(eulerCharacteristic(mesh, twin)).toBe(2);
  });

  it.each([61, 62])('splits only what it may, and stays closed whatever that is (seed %i)', (seed) => {
    const random = rng(seed);
    const ball = icosphere(10, 3);
    const allowed = Uint8Array.from({ length: ball.positions.length / 3 }, () => random.below(2));
    const longest = 0.98 * meanEdgeLength(ball);
    const { mesh, ends } = splitLongEdges(ball, longest, (a, b) => allowed[a] + allowed[b] === 2);
    const first = ball.positions.length / 3;
    expect(ends.length).toBeGreaterThan(0);
    expect(mesh.positions.length / 3 - first).toBe(ends.length / 2);
    for (let i = 0; i < ends.length; i += 2) {
      const [a, b, m] = [ends[i], ends[i + 1], first + i / 2];
      expect(allowed[a] + allowed[b]).toBe(2);
      const length = Math.hypot(...[0, 1, 2].map((k) => ball.positions[3 * a + k] - ball.positions[3 * b + k]));
      expect(length).toBeGreaterThan(longest);
      for (let k = 0; k < 3; k++) expect(mesh.positions[3 * m + k]).toBeCloseTo((ball.positions[3 * a + k] + ball.positions[3 * b + k]) / 2, 12);
    }
    const twin = twins(mesh);
    expect(twin.some((h) => h < 0)).toBe(false);
    expect(eulerCharacteristic(mesh, twin)).toBe(2);
  });

  it('hands the same mesh back where nothing is long', () => {
    const ball = icosphere(10, 2);
    expect(splitLongEdges(ball, 50).mesh).toBe(ball);
  });
});
