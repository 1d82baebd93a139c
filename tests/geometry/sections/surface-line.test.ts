import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { surfaceLine } from '@cast-to-last/geometry/sections/surface-line';
import { twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { gridPlane, icosphere, openCylinder } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const cross = (a: readonly number[], b: readonly number[]): number[] => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: readonly number[]): number[] => a.map((c) => c / Math.hypot(...a));

/** The triangle at the vertex whose far edge the ray along `direction` crosses, seen along the normal. */
function entered(mesh: Mesh, vertex: number, direction: number[], normal: number[]): number {
  const side = cross(direction, normal);
  const { offsets, items } = vertexTriangles(mesh);
  const away = (v: number): number[] => [0, 1, 2].map((k) => mesh.positions[3 * v + k] - mesh.positions[3 * vertex + k]);
  for (let i = offsets[vertex]; i < offsets[vertex + 1]; i++) {
    const corners = [...mesh.triangles.subarray(3 * items[i], 3 * items[i] + 3)];
    const k = corners.indexOf(vertex);
    const [p, q] = [away(corners[(k + 1) % 3]), away(corners[(k + 2) % 3])];
    if (dot(side, p) > 0 === dot(side, q) > 0) continue;
    const s = dot(side, p) / (dot(side, p) - dot(side, q));
    if (dot(direction, p) + s * (dot(direction, q) - dot(direction, p)) > 0) return items[i];
  }
  throw new Error('no triangle that way');
}

function line(mesh: Mesh, vertex: number, direction: number[], normal: number[], step: number, most: number): Float64Array {
  const height = new Float64Array(most);
  const written = surfaceLine(mesh, twins(mesh), vertex, entered(mesh, vertex, direction, normal), direction, normal, step, height);
  return height.subarray(0, written);
}

describe('line on a surface: height over arc length', () => {
  it.each([1, 2, 3, 4])('on a sphere is r·(cos(s/r) − 1) in every direction, three quarters round (seed %i)', (seed) => {
    const random = rng(seed);
    const r = 50;
    const sphere = icosphere(r, 5);
    const vertex = random.below(sphere.positions.length / 3);
    const normal = [...sphere.positions.subarray(3 * vertex, 3 * vertex + 3)].map((c) => c / r);
    const direction = unit(cross(normal, random.direction()));
    const height = line(sphere, vertex, direction, normal, 1, 235);
    expect(height.length).toBe(235);
    // Facets of 2 mm lie up to 0.014 mm inside and 0.007 mm in the mean, by which the arc is shorter: 235·0.007/50 = 0.033 mm.
    height.forEach((h, k) => expect(Math.abs(h - r * (Math.cos((k + 1) / r) - 1))).toBeLessThan(0.047));
  });

  it.each([0, 30, 60, 90])('on a cylinder, %i° from its axis, is that of the ellipse in its plane', (deg) => {
    const r = 30;
    const turn = (deg * Math.PI) / 180;
    const bands = 160;
    const cylinder = openCylinder(r, 160, 240, bands);
    const vertex = bands / 2;
    const direction = [0, Math.sin(turn), Math.cos(turn)];
    const height = line(cylinder, vertex, direction, [1, 0, 0], 0.5, 120);
    expect(height.length).toBe(120);
    // The line at angle φ round the cylinder: height r·(cos φ − 1), along the plane r·sin φ / sin(turn).
    const arcTo = (phi: number): number => {
      let sum = 0;
      for (let i = 0; i < 400; i++) {
        const mid = (phi * (i + 0.5)) / 400;
        sum += Math.hypot(r * Math.sin(mid), (r * Math.cos(mid)) / Math.sin(turn)) * (phi / 400);
      }
      return sum;
    };
    height.forEach((h, k) => {
      let [low, high] = [0, Math.PI];
      for (let i = 0; i < 40; i++) {
        const mid = (low + high) / 2;
        if (arcTo(mid) < (k + 1) * 0.5) low = mid;
        else high = mid;
      }
      const expected = deg === 0 ? 0 : r * (Math.cos(low) - 1);
      // Chords over 1.5°: r·(1 − cos 0.75°) = 0.0026 mm, and what the arc loses by them.
      expect(Math.abs(h - expected)).toBeLessThan(0.006);
    });
  });

  it('ends where a sheet ends, and goes on no farther than there is room to write', () => {
    const sheet = gridPlane(10, 10, 10);
    const middle = 5 * 11 + 5;
    expect([...line(sheet, middle, [0.6, 0.8, 0], [0, 0, 1], 0.5, 100)]).toEqual(Array(12).fill(0));
    expect(line(sheet, middle, [0.6, 0.8, 0], [0, 0, 1], 0.5, 7).length).toBe(7);
  });
});
