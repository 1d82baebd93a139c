import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { dropDegenerate } from '@cast-to-last/geometry/repair/drop-degenerate';
import { signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { weld, weldTolerance } from '@cast-to-last/geometry/repair/weld';
import { asSoup, flipped, gridPlane, icosphere, merged } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const isClosed = (mesh: Mesh): boolean => twins(mesh).every((h) => h >= 0);

describe('weld', () => {
  const ball = icosphere(120, 4);

  it('gives back the vertices of a sphere that was written as soup', () => {
    const { mesh, welded } = weld(asSoup(ball));
    expect(mesh.positions.length).toBe(ball.positions.length);
    expect(welded).toBe(ball.triangles.length - ball.positions.length / 3);
    expect(isClosed(mesh)).toBe(true);
    expect(signedVolume(mesh)).toBeCloseTo(signedVolume(ball), 6);
    expect(surfaceArea(mesh)).toBeCloseTo(surfaceArea(ball), 6);
  });

  it('does nothing to a welded mesh', () => {
    const { mesh, welded, vertex } = weld(ball);
    expect(welded).toBe(0);
    expect(mesh.positions).toEqual(ball.positions);
    expect(vertex.every((v, i) => v === i)).toBe(true);
  });

  it('joins what 32-bit floats at metre scale pulled apart, 1.5 m from the origin', () => {
    const soup = asSoup(ball);
    const turn = rng(3).rotation();
    const positions = soup.positions.map((_, i) => {
      const v = i - (i % 3);
      const r = 3 * (i % 3);
      const mm = turn[r] * soup.positions[v] + turn[r + 1] * soup.positions[v + 1] + turn[r + 2] * soup.positions[v + 2] + 1500;
      return 1000 * Math.fround(Math.fround(mm / 1000) * (1 + ((i * 7919) % 3) * 2 ** -24));
    });
    const { mesh } = weld({ positions, triangles: soup.triangles });
    expect(mesh.positions.length).toBe(ball.positions.length);
    expect(isClosed(mesh)).toBe(true);
  });

  for (const seed of [11, 12, 13]) {
    it(`joins soup with 1e-5 mm of jitter, whatever the pose and the order of triangles (seed ${seed})`, () => {
      const random = rng(seed);
      const soup = asSoup(ball);
      const turn = random.rotation();
      const order = Array.from({ length: ball.triangles.length / 3 }, (_, t) => t).sort(() => random.next() - 0.5);
      const positions = new Float64Array(soup.positions.length);
      order.forEach((t, to) => {
        for (let corner = 0; corner < 3; corner++) {
          const p = soup.positions.subarray(9 * t + 3 * corner, 9 * t + 3 * corner + 3);
          for (let k = 0; k < 3; k++) {
            positions[9 * to + 3 * corner + k] =
              turn[3 * k] * p[0] + turn[3 * k + 1] * p[1] + turn[3 * k + 2] * p[2] + 40 + random.range(-1e-5, 1e-5);
          }
        }
      });
      const { mesh } = weld({ positions, triangles: soup.triangles });
      expect(mesh.positions.length).toBe(ball.positions.length);
      expect(isClosed(mesh)).toBe(true);
      expect(surfaceArea(mesh)).toBeCloseTo(surfaceArea(ball), 1);
    });
  }

  it('takes its tolerance from the bulk, not from a stray far away', () => {
    const stray = { positions: new Float64Array([1e7, 0, 0, 1e7, 1, 0, 1e7, 0, 1]), triangles: new Uint32Array([0, 1, 2]) };
    const tolerance = weldTolerance(merged(ball, stray).positions);
    expect(tolerance).toBeLessThan(2 * weldTolerance(ball.positions));
    expect(weld(merged(ball, stray)).welded).toBe(0);
  });

  it('keeps two walls 0.01 mm apart, and points just outside the tolerance', () => {
    const sheet = gridPlane(20, 20, 250);
    const wall = merged(sheet, { positions: sheet.positions.map((c, i) => (i % 3 === 2 ? c - 0.01 : c)), triangles: flipped(sheet).triangles });
    expect(weld(wall).welded).toBe(0);
    const pair = { positions: new Float64Array([0, 0, 0, 100, 0, 0, 0, 1, 0, 0, 0, 1.02]), triangles: new Uint32Array([0, 1, 2, 0, 1, 3]) };
    expect(weld(pair, 1).welded).toBe(1);
    expect(weld(pair, 1.01).welded).toBe(1);
    expect(weld(pair, 1.03).welded).toBe(2);
  });

  it('finds every pair within the tolerance across cell borders (seed 5)', () => {
    const random = rng(5);
    const count = 4000;
    const positions = new Float64Array(6 * count);
    for (let i = 0; i < count; i++) {
      const p = [random.range(0, 50), random.range(0, 50), random.range(0, 50)];
      const d = random.direction();
      for (let k = 0; k < 3; k++) {
        positions[6 * i + k] = p[k];
        positions[6 * i + 3 + k] = p[k] + 0.0099 * d[k];
      }
    }
    const { vertex } = weld({ positions, triangles: new Uint32Array() }, 0.01);
    for (let i = 0; i < count; i++) expect(vertex[2 * i]).toBe(vertex[2 * i + 1]);
  });
});

describe('dropDegenerate', () => {
  it('counts collapsed triangles and repeats of either turn, and keeps the first', () => {
    const { triangles, degenerate, duplicate } = dropDegenerate(
      new Uint32Array([5, 2, 9, 1, 1, 2, 9, 5, 2, 2, 5, 9, 0, 1, 2, 7, 8, 7, 3, 4, 5]),
    );
    expect(Array.from(triangles)).toEqual([5, 2, 9, 0, 1, 2, 3, 4, 5]);
    expect([degenerate, duplicate]).toEqual([2, 2]);
  });

  it('reduces a surface written twice, once inside out, to one', () => {
    const ball = icosphere(10, 3);
    const { mesh } = weld(merged(ball, flipped(ball)));
    const once = dropDegenerate(mesh.triangles);
    expect(once.duplicate).toBe(ball.triangles.length / 3);
    expect(once.triangles).toEqual(ball.triangles);
  });
});

describe('weld without a tolerance', () => {
  it('joins what lies at the very same place and nothing else, far from the origin too', () => {
    for (const at of [0, 1e5]) {
      const positions = Float64Array.from([at, 0, 0, at + 1, 0, 0, at, 1, 0, at, 0, 0, at + 1e-6, 0, 0, at + 1, 0, 0]);
      const { mesh, vertex } = weld({ positions, triangles: new Uint32Array([0, 1, 2, 3, 5, 4]) }, 0);
      expect(Array.from(vertex)).toEqual([0, 1, 2, 0, 3, 1]);
      expect(mesh.positions.length).toBe(12);
    }
  });
});
