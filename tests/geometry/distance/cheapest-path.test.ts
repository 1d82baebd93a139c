import { describe, expect, it } from 'vitest';
import { cheapestPath } from '@cast-to-last/geometry/distance/cheapest-path';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';
import { noisy } from '../../support/disturb.ts';
import { gridPlane, icosphere, merged } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const gap = ({ positions: p }: Mesh, a: number, b: number): number => Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);

/** The least cost to every vertex, by going over all edges until nothing changes (Bellman and Ford). */
function leastCosts(mesh: Mesh, starts: readonly number[], cost: (v: number) => number, allowed: (v: number) => boolean): Float64Array {
  const { offsets, items } = vertexNeighbours(mesh);
  const spent = new Float64Array(mesh.positions.length / 3).fill(Infinity);
  for (const v of starts) spent[v] = 0;
  for (let changed = true; changed; ) {
    changed = false;
    for (let v = 0; v < spent.length; v++) {
      for (let i = offsets[v]; i < offsets[v + 1]; i++) {
        const w = items[i];
        const total = spent[v] + (gap(mesh, v, w) * (cost(v) + cost(w))) / 2;
        if (allowed(w) && total < spent[w] - 1e-12) {
          spent[w] = total;
          changed = true;
        }
      }
    }
  }
  return spent;
}

describe('cheapest path', () => {
  it.each([1, 2, 3, 4, 5, 6])('costs what going over all edges finds, and keeps to edges and allowed vertices (seed %i)', (seed) => {
    const random = rng(seed);
    const mesh = seed % 2 === 0 ? icosphere(20, 2) : noisy(gridPlane(12, 12, 12), 0.2, random);
    const count = mesh.positions.length / 3;
    const costs = Float64Array.from({ length: count }, () => random.range(0.1, 5));
    const barred = new Set(Array.from({ length: Math.floor(count / 8) }, () => random.below(count)));
    const starts = [random.below(count), random.below(count)];
    const ends = new Set([random.below(count), random.below(count), random.below(count)]);
    const allowed = (v: number): boolean => !barred.has(v);
    const spent = leastCosts(mesh, starts, (v) => costs[v], allowed);
    const least = Math.min(...[...ends].map((v) => spent[v]));
    const neighbours = vertexNeighbours(mesh);
    const path = cheapestPath(mesh, neighbours, starts, ends, (v) => costs[v], allowed);
    if (path === null) {
      expect(least).toBe(Infinity);
      return;
    }
    let total = 0;
    for (let i = 1; i < path.length; i++) {
      const [a, b] = [path[i - 1], path[i]];
      expect([...neighbours.items.subarray(neighbours.offsets[a], neighbours.offsets[a + 1])]).toContain(b);
      expect(allowed(b)).toBe(true);
      total += (gap(mesh, a, b) * (costs[a] + costs[b])) / 2;
    }
    expect(starts).toContain(path[0]);
    expect(ends.has(path[path.length - 1])).toBe(true);
    expect(total).toBeCloseTo(least, 9);
  });

  it('is none to another piece, and one vertex where a start is an end', () => {
    const two = merged(icosphere(5, 1), icosphere(9, 1));
    const neighbours = vertexNeighbours(two);
    expect(cheapestPath(two, neighbours, [0], new Set([50]), () => 1, () => true)).toBeNull();
    expect([...(cheapestPath(two, neighbours, [3, 7], new Set([7]), () => 1, () => true) ?? [])]).toEqual([7]);
  });
});
