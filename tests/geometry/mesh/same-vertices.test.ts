import { expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { sameVertices } from '@cast-to-last/geometry/mesh/same-vertices';
import { rng } from '../../support/rng.js';

const meshOf = (points: readonly number[]): Mesh => ({ positions: Float64Array.from(points), triangles: new Uint32Array(0) });

it('finds each vertex of a mesh among those of another, in whatever order, to float32 (seed 3)', () => {
  const random = rng(3);
  const points = Array.from({ length: 3 * 500 }, () => 300 * random.next() - 150);
  const order = Array.from({ length: 500 }, (_, i) => (i * 137) % 500);
  const other = meshOf(order.flatMap((v) => points.slice(3 * v, 3 * v + 3).map(Math.fround)));
  const same = sameVertices(meshOf(points), other);
  expect([...same]).toEqual(Array.from({ length: 500 }, (_, v) => order.indexOf(v)));
});

it('tells what lies elsewhere, if only in one coordinate and by one step of float32', () => {
  const step = 2 ** -20;
  expect([...sameVertices(meshOf([1, 2, 3, 1, 2, 3 + 4 * step, 7, 7, 7]), meshOf([1, 2, 3]))]).toEqual([0, -1, -1]);
  expect([...sameVertices(meshOf([-0, 0, 5]), meshOf([0, -0, 5]))]).toEqual([0]);
  expect([...sameVertices(meshOf([1, 2, 3]), meshOf([]))]).toEqual([-1]);
});
