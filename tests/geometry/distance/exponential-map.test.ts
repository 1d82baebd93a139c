import { describe, expect, it } from 'vitest';
import { ExponentialMap } from '@cast-to-last/geometry/distance/exponential-map';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';
import { posed } from '../../support/disturb.ts';
import { gridPlane, icosphere, openCylinder } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const mapOf = (mesh: Mesh): ExponentialMap => new ExponentialMap(mesh, vertexNeighbours(mesh), vertexNormals(mesh));

/** The rotation that brings the given flat points nearest to the others, applied to them. */
function turnedTo(flat: Float64Array, wanted: Float64Array): Float64Array {
  let [along, across] = [0, 0];
  for (let i = 0; i < flat.length; i += 2) {
    along += flat[i] * wanted[i] + flat[i + 1] * wanted[i + 1];
    across += flat[i] * wanted[i + 1] - flat[i + 1] * wanted[i];
  }
  const turn = Math.atan2(across, along);
  return flat.map((c, i) => (i % 2 === 0 ? Math.cos(turn) * c - Math.sin(turn) * flat[i + 1] : Math.sin(turn) * flat[i - 1] + Math.cos(turn) * c));
}

const worst = (a: Float64Array, b: Float64Array): number => {
  let most = 0;
  for (let i = 0; i < a.length; i += 2) most = Math.max(most, Math.hypot(a[i] - b[i], a[i + 1] - b[i + 1]));
  return most;
};

describe('exponential map', () => {
  it.each([1, 2])('of a plane in any pose is the plane itself (seed %i)', (seed) => {
    const sheet = gridPlane(30, 30, 30);
    const { vertices, flat } = mapOf(posed(sheet, 100, rng(seed))).around(15 * 31 + 15, 10);
    expect(vertices.length).toBeGreaterThan(200);
    const inSheet = Float64Array.from([...vertices].flatMap((v) => [sheet.positions[3 * v], sheet.positions[3 * v + 1]]));
    expect(worst(turnedTo(flat, inSheet), inSheet)).toBeLessThan(1e-9);
  });

  it('of a cylinder is the cylinder unrolled, within 0.2 % of the radius', () => {
    const r = 30;
    const cylinder = openCylinder(r, 60, 180, 60);
    const { vertices, flat } = mapOf(cylinder).around(30, 20);
    const unrolled = Float64Array.from([...vertices].flatMap((v) => {
      const [x, y, z] = cylinder.positions.subarray(3 * v, 3 * v + 3);
      return [r * Math.atan2(y, x), z - 30];
    }));
    expect(Math.max(...unrolled)).toBeGreaterThan(17);
    expect(worst(turnedTo(flat, unrolled), unrolled)).toBeLessThan(0.04);
  });

  it('of a pipe of 36 sides is as long as its sides, not as their shadows on the tangent planes, 0.4 % shorter', () => {
    const r = 30;
    const pipe = openCylinder(r, 60, 36, 24);
    const { vertices, flat } = mapOf(pipe).around(12, 25);
    const side = 2 * r * Math.sin(Math.PI / 36);
    const unrolled = Float64Array.from([...vertices].flatMap((v) => {
      const column = Math.floor(v / 25);
      return [side * (column > 18 ? column - 36 : column), pipe.positions[3 * v + 2] - 30];
    }));
    expect(worst(turnedTo(flat, unrolled), unrolled)).toBeLessThan(0.05);
  });

  it.each([0, 7, 1000])('of a sphere keeps distance and direction along the surface from vertex %i, within 1 % of a reach of 0.4 radii', (centre) => {
    const r = 50;
    const sphere = icosphere(r, 5);
    const { vertices, flat } = mapOf(sphere).around(centre, 20);
    expect(vertices[0]).toBe(centre);
    const p = sphere.positions;
    const c = [...p.subarray(3 * centre, 3 * centre + 3)].map((e) => e / r);
    const side = Math.abs(c[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
    const lean = side[0] * c[0] + side[1] * c[1];
    const x = side.map((e, k) => e - lean * c[k]);
    const l = Math.hypot(...x);
    const u = x.map((e) => e / l);
    const w = [c[1] * u[2] - c[2] * u[1], c[2] * u[0] - c[0] * u[2], c[0] * u[1] - c[1] * u[0]];
    const polar = Float64Array.from([...vertices].flatMap((v) => {
      const q = [...p.subarray(3 * v, 3 * v + 3)].map((e) => e / r);
      const at = [u, w].map((axis) => axis[0] * q[0] + axis[1] * q[1] + axis[2] * q[2]);
      const sine = Math.hypot(at[0], at[1]);
      const s = r * Math.atan2(sine, c[0] * q[0] + c[1] * q[1] + c[2] * q[2]);
      return sine === 0 ? [0, 0] : [(s * at[0]) / sine, (s * at[1]) / sine];
    }));
    // Turned to fit best, since the map is free to begin in any direction. The method adds up steps as if the surface were
    // flat between neighbours, so its error does not vanish with the mesh: circles shrink by (s/r)²/6 = 2.7 % at the rim.
    expect(worst(turnedTo(flat, polar), polar)).toBeLessThan(0.2);
  });

  it('reaches as far as asked along edges, no farther, each vertex once; a second patch is not swayed by the first', () => {
    const map = mapOf(icosphere(50, 4));
    const first = map.around(5, 15);
    expect(new Set(first.vertices).size).toBe(first.vertices.length);
    for (let i = 0; i < first.flat.length; i += 2) expect(Math.hypot(first.flat[i], first.flat[i + 1])).toBeLessThan(15.001);
    map.around(400, 40);
    expect(map.around(5, 15)).toEqual(first);
    expect([...map.around(5, 0.1).vertices]).toEqual([5]);
  });
});
