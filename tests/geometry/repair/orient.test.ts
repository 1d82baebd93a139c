import { describe, expect, it } from 'vitest';
import { facesInward, orientConsistently } from '@cast-to-last/geometry/repair/orient';
import { pairEdges } from '@cast-to-last/geometry/mesh/pair-edges';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { cutAway, footBlob } from '../../support/foot-blob.ts';
import { box, flipped, icosphere, merged, openCylinder, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

describe('pairEdges', () => {
  it('pairs every halfedge of a closed mesh, as twins does', () => {
    const torus = uvTorus(30, 10, 24, 12);
    const pairs = pairEdges(torus);
    expect(pairs.twin).toEqual(twins(torus));
    expect([pairs.boundaryEdges, pairs.nonManifoldEdges]).toEqual([0, 0]);
  });

  it('pairs halfedges that run the same way', () => {
    const two = { positions: new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, -1, 0]), triangles: new Uint32Array([0, 1, 2, 0, 1, 3]) };
    const { twin, boundaryEdges } = pairEdges(two);
    expect(Array.from(twin)).toEqual([3, -1, -1, 0, -1, -1]);
    expect(boundaryEdges).toBe(4);
  });

  it('leaves a fin out where it meets a surface', () => {
    const ball = icosphere(10, 2);
    const tip = ball.positions.length / 3;
    const [a, b] = ball.triangles;
    const finned = {
      positions: new Float64Array([...ball.positions, 0, 0, 20]),
      triangles: new Uint32Array([...ball.triangles, a, b, tip]),
    };
    const { twin, nonManifoldEdges } = pairEdges(finned);
    expect(nonManifoldEdges).toBe(1);
    expect(twin.subarray(0, ball.triangles.length)).toEqual(twins(ball));
    expect(Array.from(twin.subarray(ball.triangles.length))).toEqual([-1, -1, -1]);
  });

  it('keeps two boxes apart that share an edge', () => {
    const a = box(2, 2, 2);
    const b = { positions: a.positions.map((c, i) => (i % 3 < 2 ? c + 2 : c)), triangles: a.triangles };
    const both = merged(a, b);
    const at = (x: number, y: number, z: number): number[] => {
      const found: number[] = [];
      for (let v = 0; v < both.positions.length; v += 3) {
        if (both.positions[v] === x && both.positions[v + 1] === y && both.positions[v + 2] === z) found.push(v / 3);
      }
      return found;
    };
    const triangles = both.triangles.slice();
    for (const z of [-1, 1]) {
      const [keep, drop] = at(1, 1, z);
      triangles.forEach((v, i) => {
        if (v === drop) triangles[i] = keep;
      });
    }
    const { twin, nonManifoldEdges, boundaryEdges } = pairEdges({ positions: both.positions, triangles });
    expect([nonManifoldEdges, boundaryEdges]).toEqual([1, 0]);
    const own = a.triangles.length;
    for (let h = 0; h < twin.length; h++) expect(twin[h] < own).toBe(h < own);
  });

  it('costs no square of the valence at a hub', () => {
    const n = 40_000;
    const positions = new Float64Array(3 * (n + 1));
    const triangles = new Uint32Array(3 * n);
    for (let i = 0; i < n; i++) {
      positions.set([Math.cos((2 * Math.PI * i) / n), Math.sin((2 * Math.PI * i) / n), 0], 3 * (i + 1));
      triangles.set([0, i + 1, ((i + 1) % n) + 1], 3 * i);
    }
    const start = performance.now();
    expect(pairEdges({ positions, triangles }).boundaryEdges).toBe(n);
    expect(performance.now() - start).toBeLessThan(2000);
  });
});

describe('orientConsistently', () => {
  for (const seed of [21, 22]) {
    it(`turns back triangles that were flipped at random (seed ${seed})`, () => {
      const random = rng(seed);
      const torus = uvTorus(30, 10, 40, 20);
      const mixed = torus.triangles.slice();
      let turned = 0;
      for (let t = 0; t < mixed.length; t += 3) {
        if (random.next() > 0.3) continue;
        [mixed[t + 1], mixed[t + 2]] = [mixed[t + 2], mixed[t + 1]];
        turned++;
      }
      const oriented = orientConsistently(mixed, pairEdges({ positions: torus.positions, triangles: mixed }).twin);
      const mesh = { positions: torus.positions, triangles: oriented.triangles };
      expect(oriented.pieces).toBe(1);
      expect(oriented.flipped.reduce((sum, f) => sum + f, 0)).toBe(turned);
      expect(oriented.twin).toEqual(twins(mesh));
      expect(signedVolume(mesh)).toBeCloseTo(signedVolume(torus), 6);
    });
  }

  it('numbers pieces and leaves each to its own majority', () => {
    const two = merged(icosphere(10, 1), flipped(icosphere(4, 1)));
    const oriented = orientConsistently(two.triangles, pairEdges(two).twin);
    expect(oriented.pieces).toBe(2);
    expect(oriented.triangles).toEqual(two.triangles);
  });

  it('cuts a one-sided strip once', () => {
    const n = 30;
    const positions = new Float64Array(6 * n);
    for (let i = 0; i < n; i++) {
      const u = (2 * Math.PI * i) / n;
      for (const s of [0, 1]) {
        const w = (s - 0.5) * 4;
        const r = 20 + w * Math.cos(u / 2);
        positions.set([r * Math.cos(u), r * Math.sin(u), w * Math.sin(u / 2)], 6 * i + 3 * s);
      }
    }
    const triangles: number[] = [];
    for (let i = 0; i < n; i++) {
      const last = i === n - 1;
      const [a, b] = [2 * i, 2 * i + 1];
      const [c, d] = last ? [1, 0] : [2 * i + 2, 2 * i + 3];
      triangles.push(a, b, c, b, d, c);
    }
    const strip = { positions, triangles: Uint32Array.from(triangles) };
    const oriented = orientConsistently(strip.triangles, pairEdges(strip).twin);
    expect(oriented.cutEdges).toBe(1);
    expect(oriented.pieces).toBe(1);
    expect(twins({ positions, triangles: oriented.triangles }).filter((h) => h === -2).length).toBe(2);
  });
});

describe('facesInward', () => {
  const cases = {
    'closed foot': footBlob(4),
    'foot open at the top': cutAway(footBlob(4), (_x, _y, z) => z > 110),
    'foot open at top and sole': cutAway(footBlob(4), (_x, _y, z) => z > 110 || z < 8),
    'ball with a hole': cutAway(icosphere(40, 4), (_x, _y, z) => z > 20),
    'tube open at both ends': openCylinder(20, 100, 40, 20),
    torus: uvTorus(40, 10, 40, 20),
    'shell of a ball, 2 mm thick, with a hole': cutAway(merged(icosphere(40, 4), flipped(icosphere(38, 4))), (_x, _y, z) => z > 20),
  };
  for (const [name, mesh] of Object.entries(cases)) {
    it(`tells outward from inward: ${name}`, () => {
      expect(facesInward(mesh, boundaryLoops(mesh))).toBe(false);
      const inside = flipped(mesh);
      expect(facesInward(inside, boundaryLoops(inside))).toBe(true);
    });
  }

  it('does not depend on where the mesh lies', () => {
    const foot = cutAway(footBlob(4), (_x, _y, z) => z > 110);
    const far = { positions: foot.positions.map((c) => c + 5000), triangles: foot.triangles };
    expect(facesInward(far, boundaryLoops(far))).toBe(false);
  });
});
