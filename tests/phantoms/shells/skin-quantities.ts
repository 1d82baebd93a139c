import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { ShellFoot } from './shell-foot.js';
import type { WeakPlace } from './shell-truth.js';
import type { ThinPatch, Wall } from './wall.js';
import type { BrokenHole } from './weak-places.js';

/** mm² */
function triangleArea({ positions: p, triangles }: Mesh, t: number): number {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

export function meshArea(mesh: Mesh): number {
  let sum = 0;
  for (let t = 0; t < mesh.triangles.length / 3; t++) sum += triangleArea(mesh, t);
  return sum;
}

/** Sums over the skin below the edge: `take` is given the middle of each triangle and its area. */
function overSkin({ skin, edge }: Pick<ShellFoot, 'skin' | 'edge'>, take: (x: number, y: number, z: number, area: number) => void): void {
  const { positions: p, triangles } = skin.mesh;
  for (let t = 0; t < triangles.length / 3; t++) {
    const [x, y, z] = [0, 1, 2].map((k) => (p[3 * triangles[3 * t] + k] + p[3 * triangles[3 * t + 1] + k] + p[3 * triangles[3 * t + 2] + k]) / 3);
    if (z < edge(x, y)) take(x, y, z, triangleArea(skin.mesh, t));
  }
}

/** The wall's mean thickness, mm. */
export function meanWall(foot: Pick<ShellFoot, 'skin' | 'edge'>, wall: Wall): number {
  let [sum, whole] = [0, 0];
  overSkin(foot, (x, y, z, area) => {
    sum += area * wall(x, y, z);
    whole += area;
  });
  return sum / whole;
}

/** Place and area of every thin area and hole; y times `flip`. */
export function weakPlaces(foot: ShellFoot, wall: Wall, nominal: number, thin: readonly ThinPatch[], broken: readonly BrokenHole[], flip: 1 | -1): WeakPlace[] {
  const at = (c: readonly number[]): [number, number, number] => [c[0], flip * c[1], c[2]];
  const areas = new Float64Array(thin.length);
  if (thin.length > 0) {
    overSkin(foot, (x, y, z, area) => {
      if (wall(x, y, z) >= 0.5 * nominal) return;
      thin.forEach(({ centre, rim }, i) => {
        if (Math.hypot(x - centre[0], y - centre[1], z - centre[2]) < rim) areas[i] += area;
      });
    });
  }
  return [
    ...thin.map((w, i): WeakPlace => ({ kind: 'thin', centre: at(w.centre), area: areas[i], least: w.least })),
    ...broken.map((w): WeakPlace => ({ kind: 'broken', centre: at(w.centre), area: holeArea(w), least: 0 })),
  ];
}

/** mm², flat */
function holeArea({ radius }: BrokenHole): number {
  let sum = 0;
  for (let i = 0; i < 720; i++) sum += (radius((i * Math.PI) / 360) ** 2 * Math.PI) / 720;
  return sum;
}
