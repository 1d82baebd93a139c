import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { next, opposites, previous } from './halfedges.js';
import { gradient, type Field } from './implicit.js';
import type { Random } from '../random.js';

/** A mesh whose vertices lie on a field's zero set, with the field's unit normals there (3 a vertex). */
export interface ExactMesh extends Mesh {
  readonly normals: Float64Array;
}

/**
 * Vertices moved on to the zero set, positions changed in place: Newton steps along one gradient, then along a fresh one
 * where that did not reach it, to 1e-7 mm in at most `rounds` gradients.
 */
export function projectToField(field: Field, positions: Float64Array, rounds: number): void {
  const g = new Float64Array(3);
  for (let i = 0; i < positions.length; i += 3) {
    for (let round = 0; round < rounds; round++) {
      let value = gradient(field, positions[i], positions[i + 1], positions[i + 2], g);
      const square = g[0] * g[0] + g[1] * g[1] + g[2] * g[2];
      for (let step = 0; step < 3 && Math.abs(value) > 1e-7; step++) {
        for (let k = 0; k < 3; k++) positions[i + k] -= (value / square) * g[k];
        value = field(positions[i], positions[i + 1], positions[i + 2]);
      }
      if (Math.abs(value) <= 1e-7) break;
    }
  }
}

/** As projectToField; a vertex that a flat place of the field would throw further than `reach` mm stays where it was. */
export function projectWithin(field: Field, positions: Float64Array, rounds: number, reach: number): void {
  const before = positions.slice();
  projectToField(field, positions, rounds);
  for (let i = 0; i < positions.length; i += 3) {
    if (Math.hypot(positions[i] - before[i], positions[i + 1] - before[i + 1], positions[i + 2] - before[i + 2]) <= reach) continue;
    for (let k = 0; k < 3; k++) positions[i + k] = before[i + k];
  }
}

/** Unit gradients of the field at points, 3 a point. */
export function fieldNormals(field: Field, positions: Float64Array): Float64Array {
  const normals = new Float64Array(positions.length);
  const g = new Float64Array(3);
  for (let i = 0; i < positions.length; i += 3) {
    gradient(field, positions[i], positions[i + 1], positions[i + 2], g);
    const length = Math.hypot(g[0], g[1], g[2]);
    for (let k = 0; k < 3; k++) normals[i + k] = g[k] / length;
  }
  return normals;
}

/** Each triangle cut into four at the middles of its edges. */
export function subdivide(mesh: Mesh): Mesh {
  const { triangles } = mesh;
  const vertices = mesh.positions.length / 3;
  const opposite = opposites(triangles, vertices);
  const middle = new Uint32Array(triangles.length);
  let count = vertices;
  for (let h = 0; h < triangles.length; h++) {
    const g = opposite[h];
    middle[h] = g >= 0 && g < h ? middle[g] : count++;
  }
  const positions = new Float64Array(3 * count);
  positions.set(mesh.positions);
  const out = new Uint32Array(4 * triangles.length);
  for (let h = 0; h < triangles.length; h++) {
    for (let k = 0; k < 3; k++) positions[3 * middle[h] + k] = (mesh.positions[3 * triangles[h] + k] + mesh.positions[3 * triangles[next(h)] + k]) / 2;
  }
  for (let t = 0, o = 0; t < triangles.length; t += 3, o += 12) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const [ab, bc, ca] = [middle[t], middle[t + 1], middle[t + 2]];
    out.set([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], o);
  }
  return { positions, triangles: out };
}

/** Every vertex moved towards the middle of its neighbours by `amount`, then back on to the surface by the caller. */
export function relax(mesh: Mesh, amount: number): Float64Array {
  const { positions, triangles } = mesh;
  const sum = new Float64Array(positions.length);
  const valence = new Uint32Array(positions.length / 3);
  for (let h = 0; h < triangles.length; h++) {
    const from = triangles[h];
    const to = triangles[next(h)];
    valence[from]++;
    for (let k = 0; k < 3; k++) sum[3 * from + k] += positions[3 * to + k];
  }
  const out = positions.slice();
  for (let v = 0; v < valence.length; v++) {
    if (valence[v] > 0) for (let k = 0; k < 3; k++) out[3 * v + k] += amount * (sum[3 * v + k] / valence[v] - positions[3 * v + k]);
  }
  return out;
}

/** Vertices shifted at random by up to `share` of the shortest edge at the vertex, for the caller to put back on to the surface. */
export function jitter(mesh: Mesh, share: number, random: Random): Float64Array {
  const { positions, triangles } = mesh;
  const shortest = new Float64Array(positions.length / 3).fill(Infinity);
  for (let h = 0; h < triangles.length; h++) {
    const a = triangles[h];
    const b = triangles[next(h)];
    const d = Math.hypot(positions[3 * a] - positions[3 * b], positions[3 * a + 1] - positions[3 * b + 1], positions[3 * a + 2] - positions[3 * b + 2]);
    if (d < shortest[a]) shortest[a] = d;
    if (d < shortest[b]) shortest[b] = d;
  }
  const out = positions.slice();
  for (let v = 0; v < shortest.length; v++) {
    for (let k = 0; k < 3; k++) out[3 * v + k] += share * shortest[v] * random.between(-1, 1);
  }
  return out;
}

/** Edges turned until each has opposite angles of at most 180° together (Delaunay); positions stay. */
export function flipToDelaunay(mesh: Mesh): Uint32Array {
  const { positions } = mesh;
  const triangles = mesh.triangles.slice();
  const vertices = positions.length / 3;
  const opposite = opposites(triangles, vertices);
  const cotangent = (h: number): number => {
    const [a, b, c] = [3 * triangles[h], 3 * triangles[next(h)], 3 * triangles[previous(h)]];
    const ux = positions[a] - positions[c];
    const uy = positions[a + 1] - positions[c + 1];
    const uz = positions[a + 2] - positions[c + 2];
    const vx = positions[b] - positions[c];
    const vy = positions[b + 1] - positions[c + 1];
    const vz = positions[b + 2] - positions[c + 2];
    const cross = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
    return (ux * vx + uy * vy + uz * vz) / Math.max(cross, 1e-12);
  };
  const joined = (from: number, to: number, h: number): boolean => {
    let g = h;
    do {
      if (triangles[next(g)] === to || triangles[previous(g)] === to) return true;
      g = opposite[previous(g)];
    } while (g >= 0 && g !== h);
    return g < 0 || triangles[h] !== from;
  };
  const queue = Array.from({ length: triangles.length }, (_, h) => h);
  let budget = 4 * triangles.length;
  while (queue.length > 0 && budget-- > 0) {
    const h = queue.pop() as number;
    const g = opposite[h];
    if (g < 0 || cotangent(h) + cotangent(g) > -1e-6) continue;
    const [hn, hp, gn, gp] = [next(h), previous(h), next(g), previous(g)];
    const c = triangles[hp];
    const d = triangles[gp];
    if (c === d || joined(c, d, hp)) continue;
    // h: a→b, g: b→a become h: d→c … in place: triangle of h is (d, b, c), triangle of g is (c, a, d).
    triangles[h] = d;
    triangles[g] = c;
    const outerH = opposite[hp];
    const outerG = opposite[gp];
    opposite[h] = outerG;
    if (outerG >= 0) opposite[outerG] = h;
    opposite[g] = outerH;
    if (outerH >= 0) opposite[outerH] = g;
    opposite[hp] = gp;
    opposite[gp] = hp;
    queue.push(h, hn, g, gn);
  }
  return triangles;
}
