import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { icosphere } from './meshes.ts';
import { rng } from './rng.ts';

/** A signed distance, or anything that is negative inside and positive outside. */
export type Body = (x: number, y: number, z: number) => number;

/** The surface of a body that every ray from `centre` leaves once, every vertex on it; 20·4^k triangles. */
export function starMesh(body: Body, subdivisions: number, reach: number, centre: readonly [number, number, number] = [0, 0, 0]): Mesh {
  const sphere = icosphere(1, subdivisions);
  const positions = sphere.positions.slice();
  for (let v = 0; v < positions.length; v += 3) {
    const ray = [positions[v], positions[v + 1], positions[v + 2]];
    let low = 0;
    let high = reach;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (body(centre[0] + middle * ray[0], centre[1] + middle * ray[1], centre[2] + middle * ray[2]) < 0) low = middle;
      else high = middle;
    }
    for (let k = 0; k < 3; k++) positions[v + k] = centre[k] + low * ray[k];
  }
  return { positions, triangles: sphere.triangles };
}

/** The mesh with each vertex moved along its normal by a normal deviate. */
export function withNoise(mesh: Mesh, deviation: number, seed: number): Mesh {
  const random = rng(seed);
  const normals = vertexNormals(mesh);
  const positions = mesh.positions.slice();
  for (let v = 0; v < positions.length; v += 3) {
    const by = deviation * random.normal();
    for (let k = 0; k < 3; k++) positions[v + k] += by * normals[v + k];
  }
  return { positions, triangles: mesh.triangles };
}

/** A surface of revolution about x, outward: `profile` holds x and radius from the end with the greater x to the other, radius 0 at both. */
export function revolved(profile: readonly (readonly [number, number])[], around: number): Mesh {
  const rings = profile.length - 2;
  const positions: number[] = [profile[0][0], 0, 0];
  for (let i = 1; i <= rings; i++) {
    for (let j = 0; j < around; j++) {
      const turn = (2 * Math.PI * j) / around;
      positions.push(profile[i][0], profile[i][1] * Math.cos(turn), profile[i][1] * Math.sin(turn));
    }
  }
  const last = positions.length / 3;
  positions.push(profile[rings + 1][0], 0, 0);
  const at = (i: number, j: number): number => 1 + i * around + (j % around);
  const triangles: number[] = [];
  for (let j = 0; j < around; j++) {
    triangles.push(0, at(0, j), at(0, j + 1), last, at(rings - 1, j + 1), at(rings - 1, j));
    for (let i = 0; i + 1 < rings; i++) triangles.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
  }
  return { positions: new Float64Array(positions), triangles: new Uint32Array(triangles) };
}
