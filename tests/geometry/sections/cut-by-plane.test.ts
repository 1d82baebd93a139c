import { describe, expect, it } from 'vitest';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import { cutByPlane } from '@cast-to-last/geometry/sections/cut-by-plane';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { box, icosphere } from '../../support/meshes.js';
import { rng } from '../../support/rng.js';

/** The volume below the plane, closed by a cap that the modeller accepts. */
async function volumeBelow(mesh: Mesh, normal: readonly [number, number, number], offset: number): Promise<number> {
  const open = cutByPlane(mesh, normal, offset);
  const loops = boundaryLoops(open);
  expect(loops).toHaveLength(1);
  for (const v of loops[0]) expect(Math.abs(normal.reduce((sum, n, k) => sum + n * open.positions[3 * v + k], 0) - offset)).toBeLessThan(1e-9);
  const closed = capLoop(open, loops[0]);
  return withSolids((scope) => scope.ofMesh(closed).volume);
}

describe('cutByPlane', () => {
  it('cuts a box to its part of the volume, between its vertices and through them', async () => {
    const block = box(40, 30, 20, 4);
    expect(await volumeBelow(block, [0, 0, 1], 3)).toBeCloseTo(40 * 30 * 13, 2);
    expect(await volumeBelow(block, [0, 0, 1], 5)).toBeCloseTo(40 * 30 * 15, 2);
    expect(await volumeBelow(block, [0, 0, 1], 5.004)).toBeCloseTo(40 * 30 * 15.004, 2);
  });

  it('takes away a flat top that lies on the plane, and nothing else', () => {
    const block = box(40, 30, 20, 4);
    const open = cutByPlane(block, [0, 0, 1], 10);
    expect(open.triangles.length / 3).toBe(block.triangles.length / 3 - 2 * 16);
    expect(boundaryLoops(open)).toHaveLength(1);
  });

  it('leaves a surface that lies below as it is, and nothing of one above', () => {
    const ball = icosphere(10, 3);
    expect(cutByPlane(ball, [0, 0, 1], 11)).toEqual(ball);
    expect(cutByPlane(ball, [0, 0, 1], -11).triangles).toHaveLength(0);
  });

  it('keeps the vertices that are not at the plane bit for bit and in order', () => {
    const ball = icosphere(10, 4);
    const open = cutByPlane(ball, [0.6, 0, 0.8], 2.3);
    const below: number[] = [];
    for (let v = 0; v < ball.positions.length; v += 3) {
      if (0.6 * ball.positions[v] + 0.8 * ball.positions[v + 2] - 2.3 < -0.01) below.push(...ball.positions.subarray(v, v + 3));
    }
    const kept: number[] = [];
    for (let v = 0; v < open.positions.length; v += 3) {
      if (0.6 * open.positions[v] + 0.8 * open.positions[v + 2] - 2.3 < -0.01) kept.push(...open.positions.subarray(v, v + 3));
    }
    expect(kept).toEqual(below);
  });

  it.each([41, 42, 43, 44, 45, 46])('agrees with the modeller on the volume below a plane through a bumpy ball (seed %d)', async (seed) => {
    const random = rng(seed);
    const ball = icosphere(30, 4);
    const bumpy = { ...ball, positions: ball.positions.map((c) => c + random.range(-0.2, 0.2)) };
    const tilt = random.range(-0.6, 0.6);
    const normal: [number, number, number] = [Math.sin(tilt), 0, Math.cos(tilt)];
    const offset = random.range(-20, 20);
    const wanted = await withSolids((scope) => scope.ofMesh(bumpy).trimByPlane([-normal[0], 0, -normal[2]], -offset).volume);
    expect(Math.abs((await volumeBelow(bumpy, normal, offset)) / wanted - 1)).toBeLessThan(2e-5);
    expect(wanted).toBeLessThan(signedVolume(bumpy));
  });
});
