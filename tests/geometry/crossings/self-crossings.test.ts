import { describe, expect, it } from 'vitest';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { crossingPairs } from '../../support/crossing-pairs.ts';
import { icosphere, merged } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const shifted = (by: readonly number[], radius = 10, subdivisions = 3) => {
  const ball = icosphere(radius, subdivisions);
  return { positions: ball.positions.map((c, i) => c + by[i % 3]), triangles: ball.triangles };
};

describe('self-crossings', () => {
  it('are none on a sphere, nor between two that lie apart or inside each other', () => {
    const apart = merged(shifted([0, 0, 0]), shifted([25, 0, 0]), shifted([0, 0, 0], 6));
    expect(selfCrossings(apart).includes(1)).toBe(false);
  });

  it.each([51, 52, 53])('are those that a search of all pairs finds (seed %i)', (seed) => {
    const random = rng(seed);
    const mesh = merged(shifted([0, 0, 0]), shifted([random.range(4, 16), random.range(-3, 3), random.range(-3, 3)], random.range(5, 12)));
    const positions = mesh.positions.map((c) => c + 0.15 * random.normal());
    const expected = new Uint8Array(mesh.triangles.length / 3);
    for (const pair of crossingPairs({ positions, triangles: mesh.triangles })) for (const t of pair) expected[t] = 1;
    expect(expected.includes(1)).toBe(true);
    expect(selfCrossings({ positions, triangles: mesh.triangles })).toEqual(expected);
  });

  it('are sought where they are asked for alone', () => {
    const mesh = merged(shifted([0, 0, 0]), shifted([15, 0, 0]));
    const all = selfCrossings(mesh);
    const count = all.length;
    const upper = Uint8Array.from({ length: count }, (_, t) => (mesh.positions[3 * mesh.triangles[3 * t] + 2] > 3 ? 1 : 0));
    const some = selfCrossings(mesh, upper);
    for (let t = 0; t < count; t++) {
      if (upper[t] === 1) expect(some[t]).toBe(all[t]);
      else expect(some[t]).toBeLessThanOrEqual(all[t]);
    }
    expect(some.includes(1)).toBe(true);
    expect(selfCrossings(mesh, new Uint8Array(count)).includes(1)).toBe(false);
  });
});
