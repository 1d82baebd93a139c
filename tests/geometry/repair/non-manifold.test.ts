import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices, connectedPieces, keepTriangles, pieceAreas } from '@cast-to-last/geometry/mesh/components';
import { flipCaps } from '@cast-to-last/geometry/repair/flip-caps';
import { separateFans } from '@cast-to-last/geometry/repair/non-manifold';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { stitch } from '@cast-to-last/geometry/repair/stitch';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { asSoup, flipped, gridPlane, icosphere, merged, openCylinder } from '../../support/meshes.ts';

const without = (mesh: Mesh, gone: (x: number, y: number, z: number) => boolean): Mesh => {
  const p = mesh.positions;
  const kept: number[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const c = [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, i) => sum + p[3 * mesh.triangles[t + i] + k], 0) / 3);
    if (!gone(c[0], c[1], c[2])) kept.push(...mesh.triangles.subarray(t, t + 3));
  }
  return { positions: p, triangles: Uint32Array.from(kept) };
};

/** Fans at each vertex, counted by walking from one triangle to the next across shared edges. */
function fansPerVertex(mesh: Mesh): number[] {
  const around = vertexTriangles(mesh);
  return Array.from({ length: mesh.positions.length / 3 }, (_, v) => {
    const left = new Set(around.items.subarray(around.offsets[v], around.offsets[v + 1]));
    let fans = 0;
    while (left.size > 0) {
      fans++;
      const stack = [left.values().next().value as number];
      left.delete(stack[0]);
      for (let t = stack.pop(); t !== undefined; t = stack.pop()) {
        const corners = Array.from(mesh.triangles.subarray(3 * t, 3 * t + 3));
        for (const s of left) {
          const shared = Array.from(mesh.triangles.subarray(3 * s, 3 * s + 3)).filter((w) => w !== v && corners.includes(w));
          if (shared.length === 0) continue;
          left.delete(s);
          stack.push(s);
        }
      }
    }
    return fans;
  });
}

describe('separateFans', () => {
  it('gives two balls that share a point a vertex each', () => {
    const ball = icosphere(10, 2);
    const two = merged(ball, { positions: ball.positions.map((c, i) => (i % 3 === 0 ? c + 50 : c)), triangles: ball.triangles });
    const n = ball.positions.length / 3;
    const touching = { positions: two.positions, triangles: two.triangles.map((v) => (v === n + 7 ? 7 : v)) };
    const separated = separateFans(touching, twins(touching));
    expect(separated.nonManifoldVertices).toBe(1);
    expect(separated.droppedTriangles).toBe(0);
    expect(Math.max(...fansPerVertex(separated.mesh))).toBe(1);
    expect(separated.mesh.triangles.length).toBe(touching.triangles.length);
  });

  it('makes one hole of two that touch at a vertex, by dropping the few triangles between', () => {
    const sheet = gridPlane(20, 20, 20);
    const pinched = without(sheet, (x, y) => (x > -3 && x < 0 && y > -3 && y < 0) || (x > 0 && x < 3 && y > 0 && y < 3));
    expect(Math.max(...fansPerVertex(pinched))).toBe(2);
    const separated = separateFans(pinched, twins(pinched));
    expect(separated.nonManifoldVertices).toBe(1);
    expect(separated.droppedTriangles).toBeGreaterThan(0);
    expect(separated.droppedTriangles).toBeLessThanOrEqual(3);
    expect(Math.max(...fansPerVertex(compactVertices(separated.mesh)))).toBe(1);
    expect(separated.twin).toEqual(twins(separated.mesh));
    const loops = boundaryLoops(separated.mesh, separated.twin).map((loop) => loop.length);
    expect(loops.sort((a, b) => a - b).length).toBe(2);
  });

  it('changes nothing on a manifold mesh with boundary', () => {
    const tube = openCylinder(10, 40, 24, 10);
    const separated = separateFans(tube, twins(tube));
    expect([separated.nonManifoldVertices, separated.droppedTriangles]).toEqual([0, 0]);
    expect(separated.mesh.triangles).toEqual(tube.triangles);
    expect(separated.mesh.positions).toBe(tube.positions);
  });
});

describe('pieces', () => {
  const scene = merged(icosphere(10, 2), icosphere(3, 1), gridPlane(5, 5, 30));

  it('are found with their areas', () => {
    const pieces = connectedPieces(twins(scene));
    expect(pieces.count).toBe(3);
    const areas = pieceAreas(scene, pieces);
    expect(areas[0]).toBeCloseTo(surfaceArea(icosphere(10, 2)), 9);
    expect(areas[1]).toBeCloseTo(surfaceArea(icosphere(3, 1)), 9);
    expect(areas[2]).toBeCloseTo(900, 9);
  });

  it('can be cut out with their halfedge pairs', () => {
    const twin = twins(scene);
    const { piece } = connectedPieces(twin);
    const kept = keepTriangles(scene.triangles, twin, Uint8Array.from(piece, (p) => (p === 1 ? 1 : 0)));
    const ball = compactVertices({ positions: scene.positions, triangles: kept.triangles });
    expect(ball.positions).toEqual(icosphere(3, 1).positions);
    expect(ball.triangles).toEqual(icosphere(3, 1).triangles);
    expect(kept.twin).toEqual(twins(ball));
  });

  it('open where a neighbour is left out', () => {
    const sheet = gridPlane(4, 4, 4);
    const twin = twins(sheet);
    const keep = Uint8Array.from({ length: 32 }, (_, t) => (t < 16 ? 1 : 0));
    const half = keepTriangles(sheet.triangles, twin, keep);
    expect(half.twin).toEqual(twins({ positions: sheet.positions, triangles: half.triangles }));
  });
});

describe('flipCaps', () => {
  it('turns the long edge of a triangle without height, and keeps the area and the rim', () => {
    const mesh = {
      positions: new Float64Array([0, 0, 0, 10, 0, 0, 5, 1e-7, 0, 5, -5, 0, 5, 5, 0]),
      triangles: new Uint32Array([0, 1, 2, 1, 0, 3, 0, 2, 4, 2, 1, 4]),
    };
    const twin = twins(mesh);
    const fixed = flipCaps(mesh, twin, 1e-3);
    const after = { positions: mesh.positions, triangles: fixed.triangles };
    expect([fixed.flipped, fixed.dropped]).toEqual([1, 0]);
    expect(fixed.twin).toEqual(twins(after));
    expect(surfaceArea(after)).toBeCloseTo(50, 5);
    expect(boundaryLoops(after)[0].length).toBe(boundaryLoops(mesh)[0].length);
    for (let t = 0; t < 4; t++) {
      expect(surfaceArea({ positions: mesh.positions, triangles: fixed.triangles.slice(3 * t, 3 * t + 3) })).toBeGreaterThan(1);
    }
  });

  it('drops it on a boundary', () => {
    const mesh = {
      positions: new Float64Array([0, 0, 0, 10, 0, 0, 5, 1e-7, 0, 5, 5, 0]),
      triangles: new Uint32Array([0, 1, 2, 0, 2, 3, 2, 1, 3]),
    };
    const fixed = flipCaps(mesh, twins(mesh), 1e-3);
    expect([fixed.flipped, fixed.dropped]).toEqual([0, 1]);
    expect(Array.from(fixed.triangles)).toEqual([0, 2, 3, 2, 1, 3]);
    expect(fixed.twin).toEqual(twins({ positions: mesh.positions, triangles: fixed.triangles }));
  });

  it('leaves sound triangles alone', () => {
    const ball = icosphere(10, 3);
    expect(flipCaps(ball, twins(ball), 1e-3).triangles).toEqual(ball.triangles);
  });
});

describe('stitch', () => {
  const split = (gap: number): Mesh => {
    const tube = asSoup(openCylinder(20, 60, 40, 24));
    const mesh = weldAll(tube);
    const high = new Set<number>();
    for (let t = 0; t < mesh.triangles.length; t += 3) {
      const z = [0, 1, 2].reduce((sum, k) => sum + mesh.positions[3 * mesh.triangles[t + k] + 2], 0) / 3;
      if (z > 30) high.add(t / 3);
    }
    const n = mesh.positions.length / 3;
    const positions = new Float64Array([...mesh.positions, ...mesh.positions.map((c, i) => (i % 3 === 2 ? c + gap : c))]);
    const triangles = mesh.triangles.map((v, i) => (high.has(Math.floor(i / 3)) ? v + n : v));
    return compactVertices({ positions, triangles });
  };
  const weldAll = (soup: Mesh): Mesh => {
    const seen = new Map<string, number>();
    const points: number[] = [];
    const triangles = soup.triangles.map((v) => {
      const key = soup.positions.subarray(3 * v, 3 * v + 3).join();
      const id = seen.get(key) ?? seen.size;
      if (id === seen.size) points.push(...soup.positions.subarray(3 * v, 3 * v + 3));
      seen.set(key, id);
      return id;
    });
    return { positions: new Float64Array(points), triangles };
  };

  it('closes a crack between two patches', () => {
    const cracked = split(0.05);
    expect(connectedPieces(twins(cracked)).count).toBe(2);
    const { mesh, edges } = stitch(cracked, twins(cracked), 0.1);
    expect(edges).toBe(40);
    expect(connectedPieces(twins(mesh)).count).toBe(1);
    expect(twins(mesh).includes(-2)).toBe(false);
    expect(boundaryLoops(mesh).length).toBe(2);
  });

  it('leaves a gap wider than its reach, and the rims of doubled sheets', () => {
    const wide = split(0.5);
    expect(stitch(wide, twins(wide), 0.1).edges).toBe(0);
    const tube = openCylinder(20, 60, 40, 24);
    const doubled = merged(tube, flipped({ positions: tube.positions.map((c) => c * 1.0005), triangles: tube.triangles }));
    expect(stitch(doubled, twins(doubled), 0.1).edges).toBe(0);
  });
});
