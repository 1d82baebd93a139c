import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import { icosphere } from './meshes.ts';

/**
 * A closed body with the proportions of a foot and 150 mm of leg: about 260 long (x), 95 wide (y), sole at z = 0, toes
 * at +x, leg up +z. Every vertex lies on the smooth implicit surface `bodyDistance` = 0 to 1e-9 mm.
 */

const smoothLeast = (a: number, b: number, k: number): number => {
  const h = Math.max(k - Math.abs(a - b), 0) / k;
  return Math.min(a, b) - (h * h * k) / 4;
};

/** Distance to a segment in the x-z plane whose ends have different radii, taken linearly between them; y is divided by `wide`. */
function roundCone(x: number, y: number, z: number, a: readonly number[], b: readonly number[], wide: number): number {
  const [dx, dz] = [b[0] - a[0], b[1] - a[1]];
  const s = Math.max(0, Math.min(1, ((x - a[0]) * dx + (z - a[1]) * dz) / (dx * dx + dz * dz)));
  const [qx, qy, qz] = [x - a[0] - s * dx, y / wide, z - a[1] - s * dz];
  return Math.sqrt(qx * qx + qy * qy + qz * qz) - (a[2] + s * (b[2] - a[2]));
}

/** Negative inside, positive outside; its size is near the distance in mm. */
export function bodyDistance(x: number, y: number, z: number): number {
  const t = Math.max(0, Math.min(1, (x - 50) / 130));
  const foot = roundCone(x, y - 8 * t, z, [34, 33, 33], [234, 11, 13], 1.15 + 1.15 * t * t * (3 - 2 * t));
  const leg = roundCone(x, y, z, [52, 60, 33], [48, 160, 38], 0.95);
  return -smoothLeast(-smoothLeast(foot, leg, 50), z, 16);
}

export function footBlob(subdivisions: number): Mesh {
  const sphere = icosphere(1, subdivisions);
  const positions = sphere.positions.slice();
  const centre = [62, 0, 42];
  for (let v = 0; v < positions.length; v += 3) {
    const ray = [positions[v], positions[v + 1], positions[v + 2]];
    let low = 0;
    let high = 400;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (bodyDistance(centre[0] + middle * ray[0], centre[1] + middle * ray[1], centre[2] + middle * ray[2]) < 0) low = middle;
      else high = middle;
    }
    for (let k = 0; k < 3; k++) positions[v + k] = centre[k] + low * ray[k];
  }
  return { positions, triangles: sphere.triangles };
}

/** The mesh without the triangles that have a corner where `inside` is true. */
export function cutAway(mesh: Mesh, inside: (x: number, y: number, z: number) => boolean): Mesh {
  const { positions: p, triangles } = mesh;
  const gone = new Uint8Array(p.length / 3);
  for (let v = 0; v < gone.length; v++) gone[v] = inside(p[3 * v], p[3 * v + 1], p[3 * v + 2]) ? 1 : 0;
  const kept: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    if (gone[triangles[t]] || gone[triangles[t + 1]] || gone[triangles[t + 2]]) continue;
    kept.push(triangles[t], triangles[t + 1], triangles[t + 2]);
  }
  return compactVertices({ positions: p, triangles: Uint32Array.from(kept) });
}
