import type { Ground } from './ground.js';
import { drawProfile, tenthRadius } from './profiles.js';
import type { Random } from '../random.js';
import { flood } from '../surface/surface-walk.js';
import type { PlantedMark, Region } from '../truth.js';

export interface FingerOptions {
  readonly kind: 'dent' | 'bump';
  /** mm, low and high. */
  readonly width: readonly [number, number];
  readonly depth: readonly [number, number];
  readonly regions?: readonly Region[];
  readonly overlap: boolean;
}

/** Clear ground around a mark, mm. */
const MARGIN = 3;

/**
 * Presses one finger mark into (or a bump on to) the ground at a random vertex; null where no place was found. Distances
 * are chords from the centre, directions those in its tangent plane; the mark stays on the piece of surface that hangs
 * together with the centre and does not face the other way.
 */
export function plantFinger(ground: Ground, own: number, random: Random, options: FingerOptions): PlantedMark | null {
  const width = random.between(options.width[0], options.width[1]);
  const aspect = random.chance(0.5) ? 1 : random.between(1, 1.8);
  const most = Math.max(options.depth[0], Math.min(options.depth[1], 0.22 * width));
  // As many shallow as deep ones: even on a logarithmic scale.
  const size = options.depth[0] * (most / options.depth[0]) ** random.next();
  const depth = options.kind === 'dent' ? -size : size;
  const { name, profile } = drawProfile(random);
  const short = width / 2 / tenthRadius(profile);
  const long = short * aspect;
  const reach = 1.6 * long;
  const turn = random.between(0, Math.PI);
  for (let attempt = 0; attempt < 60; attempt++) {
    const centre = random.whole(0, ground.taken.length - 1);
    if (options.regions && !options.regions.includes(ground.regionOf(centre))) continue;
    if (ground.taken[centre] && !options.overlap) continue;
    const c = ground.point(centre);
    const n = ground.normal(centre);
    const near = new Map<number, number>();
    ground.grid.near(c[0], c[1], c[2], reach + MARGIN, (v, d) => near.set(v, d));
    const normals = ground.mesh.normals;
    const facing = (v: number): number => n[0] * normals[3 * v] + n[1] * normals[3 * v + 1] + n[2] * normals[3 * v + 2];
    const patch = flood(ground.around, [centre], (v) => near.has(v) && facing(v) > 0.05);
    if (!options.overlap && patch.some((v) => ground.taken[v] === 1)) continue;
    const axis = tangents(n, turn);
    const height = (v: number): number => {
      const p = ground.point(v);
      const d = [p[0] - c[0], p[1] - c[1], p[2] - c[2]];
      const a = d[0] * axis.u[0] + d[1] * axis.u[1] + d[2] * axis.u[2];
      const b = d[0] * axis.v[0] + d[1] * axis.v[1] + d[2] * axis.v[2];
      const flat = Math.hypot(a, b);
      const chord = near.get(v) as number;
      const r = flat < 1e-9 ? 0 : (chord / flat) * Math.hypot(a / long, b / short);
      return depth * profile(r);
    };
    // A patch that the piece of surface cuts off, with height left there, would be a cliff.
    if (patch.some((v) => Math.abs(height(v)) > 0.02 * size && touchesOutside(ground, v, near, facing))) continue;
    if (ground.folds(patch, height)) continue;
    for (const v of patch) ground.taken[v] = 1;
    const vertices = ground.plant(own, patch, height, depth);
    return { kind: options.kind, profile: name, region: ground.regionOf(centre), centre: c, depth, width, length: width * aspect, vertices };
  }
  return null;
}

function touchesOutside(ground: Ground, vertex: number, near: Map<number, number>, facing: (v: number) => number): boolean {
  for (let i = ground.around.start[vertex]; i < ground.around.start[vertex + 1]; i++) {
    const w = ground.around.list[i];
    if (!near.has(w) || facing(w) <= 0.05) return true;
  }
  return false;
}

/** Two unit vectors at right angles to `n` and to each other, turned by `angle`. */
export function tangents(n: readonly number[], angle: number): { u: number[]; v: number[] } {
  const start = Math.abs(n[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const along = n[0] * start[0] + n[1] * start[1] + n[2] * start[2];
  const e = start.map((s, k) => s - along * n[k]);
  const l = Math.hypot(e[0], e[1], e[2]);
  const f = e.map((s) => s / l);
  const g = [n[1] * f[2] - n[2] * f[1], n[2] * f[0] - n[0] * f[2], n[0] * f[1] - n[1] * f[0]];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return { u: f.map((x, k) => c * x + s * g[k]), v: f.map((x, k) => c * g[k] - s * x) };
}
