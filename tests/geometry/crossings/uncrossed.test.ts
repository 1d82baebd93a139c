import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { uncrossed } from '@cast-to-last/geometry/crossings/uncrossed';

const SIDES = 12;

/** Closed cones of 2 mm, tip to tip, whose tips reach through each other by so much, mm; a little beside each other. */
function twoCones(through: number): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const way of [1, -1]) {
    const first = positions.length / 3;
    positions.push(0.05 * through * way, 0, (-way * through) / 2, 0, 0, 2 * way);
    for (let i = 0; i < SIDES; i++) positions.push(Math.cos((2 * Math.PI * i) / SIDES), Math.sin((2 * Math.PI * i) / SIDES), 2 * way);
    for (let i = 0; i < SIDES; i++) {
      const [a, b] = [first + 2 + i, first + 2 + ((i + 1) % SIDES)];
      for (const [tip, p, q] of [[first, b, a], [first + 1, a, b]]) triangles.push(...(way > 0 ? [tip, p, q] : [tip, q, p]));
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('uncrossed', () => {
  it.each([0.0005, 0.002, 0.01])('draws tips back that reach through each other by %d mm, by little more than that', (through) => {
    const cones = twoCones(through);
    expect(selfCrossings(cones).includes(1)).toBe(true);
    const apart = uncrossed(cones);
    expect(selfCrossings(apart).includes(1)).toBe(false);
    expect(apart.triangles).toBe(cones.triangles);
    expect(Math.max(...apart.positions.map((c, i) => Math.abs(c - cones.positions[i])))).toBeLessThan(0.001 + 2 * through);
  });

  it('moves the corners of the triangles that are named alone', () => {
    const cones = twoCones(0.01);
    const ofFirst = Uint8Array.from({ length: cones.triangles.length / 3 }, (_, t) => (t < 2 * SIDES ? 1 : 0));
    const apart = uncrossed(cones, ofFirst);
    expect(selfCrossings(apart).includes(1)).toBe(false);
    const ends = 3 * (SIDES + 2);
    expect(apart.positions.subarray(ends)).toEqual(cones.positions.subarray(ends));
    expect(apart.positions.subarray(0, ends)).not.toEqual(cones.positions.subarray(0, ends));
    expect(uncrossed(cones, new Uint8Array(ofFirst.length))).toBe(cones);
  });

  it('leaves a surface alone that crosses nowhere', () => {
    const cones = twoCones(-0.5);
    expect(uncrossed(cones)).toBe(cones);
  });
});
