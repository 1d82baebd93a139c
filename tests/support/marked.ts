import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import type { AlignedCast } from '@cast-to-last/pipeline/records';

/** How far a place lies from a mark's centre or middle line, mm. */
export type Away = (x: number, y: number, z: number) => number;

export const fromPoint = (c: ArrayLike<number>): Away => (x, y, z) => Math.hypot(x - c[0], y - c[1], z - c[2]);

/** The mesh with a cosine mark: displaced along its normals by height · (1 + cos(2π·d/width)) / 2 where d < width / 2. */
export function withMark(mesh: Mesh, away: Away, height: number, width: number): Mesh {
  const normals = vertexNormals(mesh);
  const positions = mesh.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const d = away(mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]);
    if (d >= width / 2) continue;
    const h = (height * (1 + Math.cos((2 * Math.PI * d) / width))) / 2;
    for (let k = 0; k < 3; k++) positions[i + k] += h * normals[i + k];
  }
  return { positions, triangles: mesh.triangles };
}

const ORIGIN = [0, 0, 0] as const;

/** A cast as `align` would hand it on, of a body that is no foot: landmarks stand where marks will not lie. */
export function castOf(mesh: Mesh, landmarks: Partial<Landmarks> = {}): AlignedCast {
  return {
    mesh,
    opening: null,
    filled: new Uint8Array(mesh.positions.length / 3),
    side: 'right',
    transform: identity(),
    landmarks: {
      footLength: 260, pternion: ORIGIN, toeTip: [260, 0, 0], heelCentre: ORIGIN, ballCentre: [180, 0, 0], medialBall: [190, 45, 20],
      lateralBall: [165, -45, 20], instep: null, waist: null, crook: null, heelCorner: ORIGIN, ...landmarks,
    },
    warnings: [],
  };
}
