import { bounds, type Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { keepTriangles, trim, type Below } from '../surface/build-surface.js';
import { flipToDelaunay, jitter, relax, subdivide } from '../surface/densify.js';
import { isManifold } from '../surface/halfedges.js';
import { meshField } from '../surface/mesh-field.js';
import type { Random } from '../random.js';
import type { NearSkin } from './near-skin.js';
import type { Sheet } from './sheet.js';
import type { Wall } from './wall.js';

/** Further than this from the skin no wall reaches, mm. */
const FAR = 25;

/**
 * The outside of a shell: where the true distance to the skin is the wall's thickness. Meshed on its own, about as many
 * triangles as asked for; over webs narrower than twice the wall it has creases.
 */
export function outerSheet(skin: NearSkin, wall: Wall, triangles: number, below: Below, random: Random): Sheet {
  const over = (x: number, y: number, z: number): number => {
    const d = skin.distance(x, y, z, FAR);
    if (d === Infinity) return FAR;
    const q = skin.foot.point;
    return d - wall(q[0], q[1], q[2]);
  };
  const box = bounds(skin.mesh.positions).map((c, k) => (k < 3 ? c - 24 : c + 24));
  const share = trim(meshField(over, box, 7), below).triangles.length / 3;
  const levels = Math.max(0, Math.ceil(Math.log(triangles / (share * (7 / 3.1) ** 2)) / Math.log(4)));
  const cell = 7 * Math.sqrt((share * 4 ** levels) / triangles);
  let mesh: Mesh = trim(manifoldNet(over, box, cell), (x, y, z) => below(x, y, z - 2.5 * cell));
  mesh = largestPiece(mesh);
  for (let i = 0; i < 3; i++) {
    mesh = { positions: relax(mesh, 0.5), triangles: mesh.triangles };
    land(skin, wall, mesh.positions, 2);
  }
  for (let level = 0; level < levels; level++) {
    mesh = subdivide(mesh);
    land(skin, wall, mesh.positions, 2);
  }
  const positions = jitter(mesh, 0.3, random);
  land(skin, wall, positions, 4);
  const kept = trim({ positions, triangles: flipToDelaunay({ positions, triangles: mesh.triangles }) }, below);
  return settle(skin, wall, kept);
}

function manifoldNet(field: (x: number, y: number, z: number) => number, box: Float64Array, cell: number): Mesh {
  for (let attempt = 0; attempt < 12; attempt++) {
    const mesh = meshField(field, box.map((c, k) => c - (k < 3 ? (attempt * (0.37 + 0.11 * k) % 1) * cell : 0)), cell);
    if (isManifold(mesh)) return mesh;
  }
  throw new Error('no grid gives a manifold mesh of this shell');
}

/** Vertices moved straight away from or towards the skin until the wall's thickness lies between, in place. */
function land(skin: NearSkin, wall: Wall, positions: Float64Array, rounds: number): void {
  for (let i = 0; i < positions.length; i += 3) {
    for (let round = 0; round < rounds; round++) {
      const d = skin.distance(positions[i], positions[i + 1], positions[i + 2], FAR);
      if (d === Infinity) break;
      const q = skin.foot.point;
      const step = wall(q[0], q[1], q[2]) - d;
      for (let k = 0; k < 3; k++) positions[i + k] += (step / d) * (positions[i + k] - q[k]);
      if (Math.abs(step) < 1e-4) break;
    }
  }
}

/** Each vertex put exactly straight over its point of the skin, where no other part of the skin is nearer. */
function settle(skin: NearSkin, wall: Wall, mesh: Mesh): Sheet {
  const { positions } = mesh;
  const n = positions.length / 3;
  const sheet = { positions, triangles: mesh.triangles, foot: new Float64Array(3 * n), normals: new Float64Array(3 * n), straight: new Uint8Array(n) };
  const q = new Float64Array(3);
  const normal = new Float64Array(3);
  for (let v = 0; v < n; v++) {
    const o = 3 * v;
    skin.distance(positions[o], positions[o + 1], positions[o + 2], FAR);
    q.set(skin.foot.point);
    skin.exactly(q, normal);
    const t = wall(q[0], q[1], q[2]);
    const p = [0, 1, 2].map((k) => q[k] + t * normal[k]);
    sheet.foot.set(q, o);
    sheet.normals.set(normal, o);
    const moved = Math.hypot(p[0] - positions[o], p[1] - positions[o + 1], p[2] - positions[o + 2]);
    if (moved > 0.2 || skin.distance(p[0], p[1], p[2], FAR) < t - 0.02) continue;
    positions.set(p, o);
    sheet.straight[v] = 1;
  }
  return sheet;
}

/** The piece with the most triangles. */
function largestPiece(mesh: Mesh): Mesh {
  const parent = Int32Array.from({ length: mesh.positions.length / 3 }, (_, v) => v);
  const find = (v: number): number => {
    let r = v;
    while (parent[r] !== r) r = parent[r] = parent[parent[r]];
    return r;
  };
  const { triangles } = mesh;
  for (let t = 0; t < triangles.length; t += 3) {
    parent[find(triangles[t])] = find(triangles[t + 1]);
    parent[find(triangles[t + 1])] = find(triangles[t + 2]);
  }
  const size = new Map<number, number>();
  for (let t = 0; t < triangles.length; t += 3) size.set(find(triangles[t]), (size.get(find(triangles[t])) ?? 0) + 1);
  const [main] = [...size.entries()].reduce((a, b) => (b[1] > a[1] ? b : a));
  return keepTriangles(mesh, (t) => find(triangles[3 * t]) === main).mesh;
}
