import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { BOUNDARY, NON_MANIFOLD, boundaryLoops, nextHalfedge, previousHalfedge, twins, vertexNeighbours, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { box, gridPlane, icosphere, merged, openCylinder, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

/** `count` vertices that no test here looks at, and the triangles given. */
const bare = (count: number, ...triangles: readonly number[]): Mesh => ({ positions: new Float64Array(3 * count), triangles: new Uint32Array(triangles) });

/** The twins by their definition: every pair of halfedges compared. */
function twinsByPairs({ triangles }: Mesh): number[] {
  const ends = Array.from(triangles, (a, h) => [a, triangles[nextHalfedge(h)]]);
  return ends.map(([a, b], h) => {
    const same = ends.flatMap(([c, d], g) => (g !== h && ((c === a && d === b) || (c === b && d === a)) ? [g] : []));
    if (same.length === 0) return BOUNDARY;
    return same.length === 1 && ends[same[0]][0] === b ? same[0] : NON_MANIFOLD;
  });
}

/** A disc of `count` triangles about vertex 0. */
const fan = (count: number): Mesh => bare(count + 1, ...Array.from({ length: count }, (_, i) => [0, 1 + i, 1 + ((i + 1) % count)]).flat());

describe('halfedges', () => {
  it('run round their triangle', () => {
    for (const h of [0, 1, 2, 9, 10, 11]) {
      expect(Math.floor(nextHalfedge(h) / 3)).toBe(Math.floor(h / 3));
      expect(previousHalfedge(nextHalfedge(h))).toBe(h);
      expect(nextHalfedge(nextHalfedge(nextHalfedge(h)))).toBe(h);
    }
  });
});

describe('twins', () => {
  it.each([['sphere', icosphere(1, 2)], ['torus', uvTorus(3, 1, 8, 6)], ['box', box(1, 2, 3, 2)]])('of a closed surface (%s) pair all halfedges, each with the one that runs back', (_, mesh) => {
    const twin = twins(mesh);
    twin.forEach((g, h) => {
      expect(twin[g]).toBe(h);
      expect(mesh.triangles[g]).toBe(mesh.triangles[nextHalfedge(h)]);
    });
  });

  it('tell boundary edges and edges of three triangles from the others', () => {
    // Three triangles on edge 0–1, one more on edge 1–2 of the first.
    const twin = twins(bare(6, 0, 1, 2, 1, 0, 3, 0, 1, 4, 2, 1, 5));
    expect([twin[0], twin[3], twin[6]]).toEqual([NON_MANIFOLD, NON_MANIFOLD, NON_MANIFOLD]);
    expect([twin[1], twin[9]]).toEqual([9, 1]);
    expect([2, 4, 5, 7, 8, 10, 11].map((h) => twin[h])).toEqual(Array(7).fill(BOUNDARY));
  });

  it('are none across an edge whose two triangles run the same way', () => {
    const twin = twins(bare(4, 0, 1, 2, 0, 1, 3));
    expect(Array.from(twin)).toEqual([NON_MANIFOLD, BOUNDARY, BOUNDARY, NON_MANIFOLD, BOUNDARY, BOUNDARY]);
  });

  it.each([1, 2, 3, 4, 5])('of a random tangle are those of the definition (seed %i)', (seed) => {
    const random = rng(seed);
    const corners: number[] = [];
    for (let i = 0; i < 60; i++) {
      const [a, b, c] = [random.below(14), random.below(14), random.below(14)];
      if (a !== b && b !== c && c !== a) corners.push(a, b, c);
    }
    const mesh = bare(14, ...corners);
    expect(Array.from(twins(mesh))).toEqual(twinsByPairs(mesh));
  });

  it('of a fan of 5,000 triangles about one vertex are found, whatever the order of the triangles (seed 6)', () => {
    const random = rng(6);
    const whole = fan(5000);
    const order = Array.from({ length: 5000 }, (_, i) => i);
    for (let i = order.length - 1; i > 0; i--) {
      const j = random.below(i + 1);
      [order[i], order[j]] = [order[j], order[i]];
    }
    const mesh = { ...whole, triangles: Uint32Array.from(order.flatMap((f) => [...whole.triangles.subarray(3 * f, 3 * f + 3)])) };
    const twin = twins(mesh);
    for (let f = 0; f < 5000; f++) {
      expect(mesh.triangles[twin[3 * f]]).toBe(mesh.triangles[3 * f + 1]);
      expect(mesh.triangles[nextHalfedge(twin[3 * f])]).toBe(0);
      expect(twin[3 * f + 1]).toBe(BOUNDARY);
      expect(twin[twin[3 * f + 2]]).toBe(3 * f + 2);
    }
    expect(boundaryLoops(mesh, twin).map((loop) => loop.length)).toEqual([5000]);
  });
});

describe('rows round vertices', () => {
  it('hold every triangle three times, in rising order', () => {
    const mesh = icosphere(1, 2);
    const { offsets, items } = vertexTriangles(mesh);
    expect(items.length).toBe(mesh.triangles.length);
    for (let v = 0; v + 1 < offsets.length; v++) {
      const row = [...items.subarray(offsets[v], offsets[v + 1])];
      expect(row).toEqual([...row].sort((a, b) => a - b));
      for (const f of row) expect([...mesh.triangles.subarray(3 * f, 3 * f + 3)]).toContain(v);
    }
  });

  it('hold each neighbour once: 5 or 6 on an icosphere, 2 to 6 on a grid, the edge\'s end on a rim too', () => {
    const degrees = ({ offsets }: { offsets: Uint32Array }): number[] => [...offsets.subarray(1)].map((o, i) => o - offsets[i]);
    const sphere = degrees(vertexNeighbours(icosphere(1, 2)));
    expect(sphere.filter((d) => d === 5)).toHaveLength(12);
    expect(sphere.filter((d) => d === 6)).toHaveLength(sphere.length - 12);
    const grid = degrees(vertexNeighbours(gridPlane(4, 4, 1)));
    expect(Math.min(...grid)).toBe(2);
    expect(Math.max(...grid)).toBe(6);
    // Each edge is told by both its ends: 2·(4·5 + 4·5 + 16) edges.
    expect(grid.reduce((a, b) => a + b)).toBe(2 * 56);
  });
});

describe('boundary loops', () => {
  it('of closed surfaces are none', () => {
    expect(boundaryLoops(icosphere(1, 1))).toEqual([]);
    expect(boundaryLoops(uvTorus(3, 1, 8, 6))).toEqual([]);
  });

  it('of a tube are two, of a sheet one, in the order of their halfedges', () => {
    for (const [mesh, lengths] of [[openCylinder(10, 20, 16, 3), [16, 16]], [gridPlane(5, 3, 10), [16]]] as const) {
      const twin = twins(mesh);
      const loops = boundaryLoops(mesh, twin);
      expect(loops.map((loop) => loop.length)).toEqual([...lengths]);
      const ends = new Set<string>();
      twin.forEach((g, h) => g === BOUNDARY && ends.add(`${mesh.triangles[h]} ${mesh.triangles[nextHalfedge(h)]}`));
      for (const loop of loops) loop.forEach((v, i) => expect(ends).toContain(`${v} ${loop[(i + 1) % loop.length]}`));
    }
  });

  it('that pinch in one vertex are told apart', () => {
    // Two triangles that touch in vertex 0 alone: two loops of three, no vertex twice in one.
    const loops = boundaryLoops(bare(5, 0, 1, 2, 0, 3, 4));
    expect(loops.map((loop) => [...loop].sort())).toEqual(expect.arrayContaining([[0, 1, 2], [0, 3, 4]]));
    expect(loops).toHaveLength(2);
  });

  it('that pinch in two vertices each hold a vertex once, and every boundary halfedge is in one of them', () => {
    // A sheet from which two squares were taken that touch in a corner.
    const grid = gridPlane(4, 4, 4);
    const gone = new Set([5, 10]);
    const mesh = { ...grid, triangles: grid.triangles.filter((_, h) => !gone.has(Math.floor(h / 6))) };
    const loops = boundaryLoops(mesh);
    expect(loops.map((loop) => loop.length).sort((a, b) => a - b)).toEqual([4, 4, 16]);
    for (const loop of loops) expect(new Set(loop).size).toBe(loop.length);
  });

  it('of several pieces are found one by one', () => {
    expect(boundaryLoops(merged(gridPlane(2, 2, 1), icosphere(1, 0), gridPlane(1, 1, 1)))).toHaveLength(2);
  });
});
