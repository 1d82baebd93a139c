import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { Ground } from '../marks/ground.js';
import { plantFinger } from '../marks/plant-fingers.js';
import type { Random } from '../random.js';
import { regionOf } from '../marks/regions.js';
import type { PlantedMark } from '../truth.js';
import type { NearSkin } from './near-skin.js';

/** Heights of marks on the vertices of the dense skin, mm, outward. */
export interface ShellMarks {
  readonly inner: Float64Array;
  readonly outer: Float64Array;
  readonly marks: readonly (PlantedMark & { readonly on: 'both' | 'inner' | 'outer' })[];
  readonly ground: Ground;
}

export interface MarkPlan {
  /** Dents that reach through the wall to the inside. */
  readonly through: number;
  /** Lumps and shallow dents of the outside alone. */
  readonly outside: number;
  /** Hollows and lumps of the inside alone. */
  readonly inside: number;
  /** Where no mark may lie, besides near the top. */
  readonly keepClear: (vertex: number) => boolean;
}

export function plantShellMarks(skin: NearSkin, landmarks: Landmarks, whole: number, random: Random, plan: MarkPlan): ShellMarks {
  const { positions: p, normals: n } = skin.mesh;
  const ground = new Ground(skin.mesh, skin.field, (v) => regionOf(p.subarray(3 * v, 3 * v + 3), n.subarray(3 * v, 3 * v + 3), 'right', landmarks));
  for (let v = 0; v < ground.taken.length; v++) if (p[3 * v + 2] > whole - 22 || plan.keepClear(v)) ground.taken[v] = 1;
  const marks: ShellMarks['marks'][number][] = [];
  const take = (on: 'both' | 'inner' | 'outer', count: number, subject: string, kindOf: (r: Random) => 'dent' | 'bump', depth: readonly [number, number]): Float64Array => {
    const before = ground.heights.slice();
    for (let i = 0; i < count; i++) {
      const own = random.fork(`${subject} ${i}`);
      const mark = plantFinger(ground, marks.length, own, { kind: kindOf(own.fork('kind')), width: [8, 28], depth, overlap: false });
      if (mark) marks.push({ ...mark, on });
    }
    return ground.heights.map((h, v) => h - before[v]);
  };
  const both = take('both', plan.through, 'through', () => 'dent', [0.3, 4]);
  const outside = take('outer', plan.outside, 'outside', (r) => (r.chance(0.6) ? 'bump' : 'dent'), [0.3, 2]);
  const inside = take('inner', plan.inside, 'inside', (r) => (r.chance(0.5) ? 'bump' : 'dent'), [0.3, 3]);
  const add = (a: Float64Array, b: Float64Array): Float64Array => a.map((c, v) => c + b[v]);
  return { inner: add(both, inside), outer: add(both, outside), marks, ground };
}

/** A function of points of the skin from values on the dense skin's vertices: straight lines between them. */
export function onSkin(skin: NearSkin, values: Float64Array): (x: number, y: number, z: number) => number {
  const { positions: p, triangles } = skin.mesh;
  const start = new Uint32Array(p.length / 3 + 1);
  for (const v of triangles) start[v + 1]++;
  for (let v = 1; v < start.length; v++) start[v] += start[v - 1];
  const fill = start.slice();
  const list = new Uint32Array(triangles.length);
  for (let h = 0; h < triangles.length; h++) list[fill[triangles[h]]++] = Math.floor(h / 3);
  return (x, y, z) => {
    skin.distance(x, y, z);
    const v = skin.foot.vertex;
    let best = values[v];
    let outside = Infinity;
    for (let i = start[v]; i < start[v + 1]; i++) {
      const t = 3 * list[i];
      const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
      const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const [wx, wy, wz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      const [dx, dy, dz] = [x - p[a], y - p[a + 1], z - p[a + 2]];
      const [uu, uw, ww] = [ux * ux + uy * uy + uz * uz, ux * wx + uy * wy + uz * wz, wx * wx + wy * wy + wz * wz];
      const [du, dw] = [dx * ux + dy * uy + dz * uz, dx * wx + dy * wy + dz * wz];
      const det = uu * ww - uw * uw;
      if (det < 1e-14) continue;
      const s = (du * ww - dw * uw) / det;
      const r = (dw * uu - du * uw) / det;
      const off = Math.max(0, -s, -r, s + r - 1);
      if (off >= outside) continue;
      outside = off;
      const [cs, cr] = [Math.min(1, Math.max(0, s)), Math.min(1, Math.max(0, r))];
      best = (1 - cs - cr) * values[a / 3] + cs * values[b / 3] + cr * values[c / 3];
    }
    return best;
  };
}
