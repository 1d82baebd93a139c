import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';

/** The mesh with y turned round, still outward. */
export function mirrorMesh(mesh: Mesh): Mesh {
  const positions = mesh.positions.map((c, i) => (i % 3 === 1 ? -c : c));
  const triangles = mesh.triangles.slice();
  for (let t = 0; t < triangles.length; t += 3) [triangles[t + 1], triangles[t + 2]] = [triangles[t + 2], triangles[t + 1]];
  return { positions, triangles };
}

/** Meshes as one, vertices numbered through in their order. */
export function joinMeshes(meshes: readonly Mesh[]): Mesh {
  const positions = new Float64Array(meshes.reduce((n, m) => n + m.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((n, m) => n + m.triangles.length, 0));
  let p = 0;
  let t = 0;
  for (const m of meshes) {
    positions.set(m.positions, p);
    triangles.set(m.triangles.map((v) => v + p / 3), t);
    p += m.positions.length;
    t += m.triangles.length;
  }
  return { positions, triangles };
}

/** Every landmark mapped by `m`. */
export function mirrorLandmarks(l: Landmarks, m: (p: readonly number[]) => Point): Landmarks {
  const maybe = (p: Point | null): Point | null => p && m(p);
  return {
    footLength: l.footLength, pternion: m(l.pternion), toeTip: m(l.toeTip), heelCentre: m(l.heelCentre), ballCentre: m(l.ballCentre),
    medialBall: m(l.medialBall), lateralBall: m(l.lateralBall), instep: maybe(l.instep), waist: maybe(l.waist), crook: maybe(l.crook), heelCorner: m(l.heelCorner),
  };
}
