import { describe, expect, it } from 'vitest';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { closedCylinder, icosphere, openCylinder } from '../../support/meshes.js';
import { rng } from '../../support/rng.js';

/** Volume as the solid modeller finds it; it throws unless the mesh is closed, manifold and outward. */
const volume = (mesh: Mesh): Promise<number> => withSolids((scope) => scope.ofMesh(mesh).volume);

/** The part of a mesh whose triangles pass, with the vertices that they leave unused dropped. */
function part(mesh: Mesh, keep: (x: number, y: number, z: number) => boolean): Mesh {
  const { positions: p, triangles: t } = mesh;
  const kept: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const c = [0, 1, 2].map((k) => (p[3 * t[i] + k] + p[3 * t[i + 1] + k] + p[3 * t[i + 2] + k]) / 3);
    if (keep(c[0], c[1], c[2])) kept.push(t[i], t[i + 1], t[i + 2]);
  }
  const place = new Map<number, number>();
  const positions: number[] = [];
  const triangles = kept.map((v) => {
    let to = place.get(v);
    if (to === undefined) {
      to = positions.length / 3;
      place.set(v, to);
      positions.push(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
    }
    return to;
  });
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('capLoop', () => {
  it('closes an open cylinder flat, both ends', async () => {
    let mesh = openCylinder(20, 60, 48, 6);
    for (const loop of boundaryLoops(mesh)) mesh = capLoop(mesh, loop);
    expect(boundaryLoops(mesh)).toEqual([]);
    expect(await volume(mesh)).toBeCloseTo(await volume(closedCylinder(20, 60, 48, 6)), 0);
  });

  it('leaves the vertices and triangles of the mesh as they were, in front', () => {
    const mesh = openCylinder(20, 60, 48, 6);
    const capped = capLoop(mesh, boundaryLoops(mesh)[0]);
    expect(capped.positions.subarray(0, mesh.positions.length)).toEqual(mesh.positions);
    expect(capped.triangles.subarray(0, mesh.triangles.length)).toEqual(mesh.triangles);
  });

  it('closes a sphere cut at a third of its height to the volume of the cap left', async () => {
    const open = part(icosphere(50, 5), (_x, _y, z) => z < 50 / 3);
    const [loop, ...others] = boundaryLoops(open);
    expect(others).toEqual([]);
    const h = 50 + 50 / 3;
    expect(Math.abs((await volume(capLoop(open, loop))) / ((Math.PI * h * h * (150 - h)) / 3) - 1)).toBeLessThan(0.02);
  });

  it.each([11, 12, 13, 14, 15])('closes a ragged edge to a solid (seed %d)', async (seed) => {
    const random = rng(seed);
    const ragged = part(icosphere(50, 4), (_x, _y, z) => z < 20 + random.range(-5, 5));
    const loops = boundaryLoops(ragged).sort((a, b) => b.length - a.length);
    let closed = ragged;
    for (const loop of loops) closed = capLoop(closed, loop);
    const whole = (4 / 3) * Math.PI * 50 ** 3;
    const found = await volume(closed);
    expect(found).toBeGreaterThan(0.6 * whole);
    expect(found).toBeLessThan(0.95 * whole);
  });

  it('splits a chord that an edge of the surface already takes', async () => {
    // Vertices a, b, c, d lie in one plane, reflex at a, so that a-c is the only chord inside; the tetrahedron a, c, d, e hangs
    // below, and the flap a, b, c of the surface has the edge a-c already.
    const [a, b, c, d, e] = [0, 1, 2, 3, 4];
    const mesh: Mesh = {
      positions: new Float64Array([6, 6, 0, 10, 0, 0, 10, 10, 0, 0, 10, 0, 6, 9, -9]),
      triangles: new Uint32Array([a, c, b, c, a, e, d, c, e, a, d, e]),
    };
    const [loop] = boundaryLoops(mesh);
    const capped = capLoop(mesh, loop);
    expect(capped.positions.length / 3).toBe(6);
    const raised = 0.05 * Math.hypot(4, 4);
    expect([...capped.positions.subarray(15, 17)]).toEqual([8, 8]);
    expect(capped.positions[17]).toBeCloseTo(raised, 12);
    expect(boundaryLoops(capped)).toEqual([]);
    expect(await volume(capped)).toBeCloseTo((20 * 9) / 3 + (40 * raised) / 3, 4);
  });
});
