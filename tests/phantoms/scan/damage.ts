import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Random } from '../random.js';

/** Triangles to drop for `count` holes of 2 to 25 mm at random places, each with a ragged rim; 1 = gone. */
export function holes(mesh: Mesh, count: number, random: Random): Uint8Array {
  const gone = new Uint8Array(mesh.triangles.length / 3);
  const p = mesh.positions;
  for (let i = 0; i < count; i++) {
    const v = 3 * random.whole(0, p.length / 3 - 1);
    const radius = 0.5 * 2 * 12.5 ** random.next();
    const lobes = random.whole(2, 5);
    const phase = random.between(0, 6);
    for (let t = 0; t < gone.length; t++) {
      const a = 3 * mesh.triangles[3 * t];
      const [x, y, z] = [p[a] - p[v], p[a + 1] - p[v + 1], p[a + 2] - p[v + 2]];
      const d = Math.hypot(x, y, z);
      if (d < radius && d < radius * (0.8 + 0.2 * Math.sin(lobes * Math.atan2(y + 0.6 * z, x - 0.3 * z) + phase))) gone[t] = 1;
    }
  }
  return gone;
}

/** Triangles of a large patch of the sole, 40 to 110 mm across, that the scanner did not see; 1 = gone. */
export function missingSole(mesh: Mesh, normals: Float64Array, length: number, random: Random): Uint8Array {
  const gone = new Uint8Array(mesh.triangles.length / 3);
  const x = random.between(0.35, 0.6) * length;
  const [rx, ry] = [random.between(20, 55), random.between(15, 32)];
  for (let t = 0; t < gone.length; t++) {
    const a = 3 * mesh.triangles[3 * t];
    const [u, v] = [(mesh.positions[a] - x) / rx, mesh.positions[a + 1] / ry];
    const wobble = 1 + 0.15 * Math.sin(5 * Math.atan2(v, u));
    if (normals[a + 2] < -0.5 && u * u + v * v < wobble) gone[t] = 1;
  }
  return gone;
}

/** Pieces that do not belong to the foot, in its frame: floating crumbs, a patch of the table, a sheet of the surface seen twice. */
export function debris(mesh: Mesh, normals: Float64Array, random: Random): Mesh[] {
  const pieces: Mesh[] = [];
  for (let i = random.whole(1, 4); i > 0; i--) {
    const centre = [random.between(-60, 330), random.between(-140, 140), random.between(-5, 160)];
    if (centre[0] > -30 && centre[0] < 300 && Math.abs(centre[1]) < 80) centre[1] += centre[1] < 0 ? -100 : 100;
    pieces.push(crumb(centre, random.between(1, 9), random));
  }
  if (random.chance(0.4)) pieces.push(tablePatch(random));
  if (random.chance(0.4)) pieces.push(doubledSheet(mesh, normals, random));
  return pieces;
}

function crumb(centre: readonly number[], size: number, random: Random): Mesh {
  const corners = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]];
  const positions = Float64Array.from(corners.flatMap((c) => {
    const r = size * random.between(0.5, 1);
    return c.map((x, k) => centre[k] + r * x + random.between(-0.2, 0.2) * size);
  }));
  return { positions, triangles: Uint32Array.from([0, 2, 4, 2, 1, 4, 1, 3, 4, 3, 0, 4, 2, 0, 5, 1, 2, 5, 3, 1, 5, 0, 3, 5]) };
}

function tablePatch(random: Random): Mesh {
  const [x0, y0] = [random.between(-60, 250), random.pick([-1, 1]) * random.between(70, 120)];
  const [nx, ny] = [random.whole(6, 25), random.whole(4, 14)];
  const drop = random.between(0.2, 3);
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let j = 0; j <= ny; j++) for (let i = 0; i <= nx; i++) positions.push(x0 + 2.5 * i + random.between(-0.5, 0.5), y0 + 2.5 * j, -drop + random.normal(0, 0.05));
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const a = j * (nx + 1) + i;
      triangles.push(a, a + 1, a + nx + 2, a, a + nx + 2, a + nx + 1);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** A second view of a patch 15 to 40 mm wide, 0.3 to 1 mm off the first. */
function doubledSheet(mesh: Mesh, normals: Float64Array, random: Random): Mesh {
  const p = mesh.positions;
  const v = 3 * random.whole(0, p.length / 3 - 1);
  const radius = random.between(7, 20);
  const off = random.pick([-1, 1]) * random.between(0.3, 1);
  const number = new Map<number, number>();
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const corners = [...mesh.triangles.subarray(t, t + 3)];
    if (corners.some((c) => Math.hypot(p[3 * c] - p[v], p[3 * c + 1] - p[v + 1], p[3 * c + 2] - p[v + 2]) > radius)) continue;
    for (const c of corners) {
      let own = number.get(c);
      if (own === undefined) {
        own = positions.length / 3;
        number.set(c, own);
        for (let k = 0; k < 3; k++) positions.push(p[3 * c + k] + off * normals[3 * c + k]);
      }
      triangles.push(own);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
