import type { Ground } from './ground.js';
import { smoothStep } from '../surface/implicit.js';
import { tangents } from './plant-fingers.js';
import type { Random } from '../random.js';
import type { PlantedMark } from '../truth.js';

type Vector = [number, number, number];

/** Points about 1 mm apart on the clean surface, with the normals there. */
interface Path {
  readonly points: Vector[];
  readonly normals: Vector[];
}

/** Height of a line mark at `across` (mm, signed, from the middle) and `along` (mm from its start). */
type LineProfile = (across: number, along: number) => number;

interface Line {
  readonly kind: 'ridge' | 'seam';
  readonly name: string;
  readonly path: Path;
  readonly profile: LineProfile;
  readonly depth: number;
  readonly width: number;
  readonly reach: number;
}

/** A smoothly wandering number: three waves over `length` mm, about 1 in size. */
function wander(random: Random, length: number): (s: number) => number {
  const waves = [1, 2, 3].map((n) => ({ f: ((n + random.between(-0.3, 0.3)) * Math.PI) / length, phase: random.between(0, 2 * Math.PI), a: random.normal(0, 0.8 / n) }));
  return (s) => waves.reduce((sum, w) => sum + w.a * Math.sin(w.f * s + w.phase), 0);
}

function walk(ground: Ground, start: Vector, heading: number, length: number, bend: (s: number) => number): Path | null {
  let { point, normal } = ground.land(start);
  let direction = tangents(normal, heading).u as Vector;
  const path: Path = { points: [point], normals: [normal] };
  for (let s = 1; s <= length; s++) {
    const landed = ground.land([point[0] + direction[0], point[1] + direction[1], point[2] + direction[2]]);
    if (dot(landed.normal, normal) < 0.8) return null;
    const side = cross(landed.normal, direction);
    const turn = bend(s);
    const moved = landed.point.map((c, k) => c - point[k] + turn * side[k]) as Vector;
    point = landed.point;
    normal = landed.normal;
    const along = dot(moved, normal);
    direction = unit(moved.map((c, k) => c - along * normal[k]) as Vector);
    path.points.push(point);
    path.normals.push(normal);
  }
  return path;
}

/** Adds a line mark; false where it would run over taken ground (unless `overlap`), off the surface, or fold it. */
function plantLine(ground: Ground, own: number, line: Line, overlap: boolean): PlantedMark | null {
  const { path, reach } = line;
  const place = new Map<number, { across: number; along: number; d: number }>();
  path.points.forEach((q, i) => {
    const before = path.points[Math.max(0, i - 1)];
    const after = path.points[Math.min(path.points.length - 1, i + 1)];
    const t = unit([after[0] - before[0], after[1] - before[1], after[2] - before[2]]);
    const side = cross(path.normals[i], t);
    ground.grid.near(q[0], q[1], q[2], reach + 4, (v, d) => {
      const n = ground.normal(v);
      if (dot(n, path.normals[i]) < 0.3) return;
      const known = place.get(v);
      if (known && known.d <= d) return;
      const p = ground.point(v);
      const e: Vector = [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
      const ahead = dot(e, t);
      const across = Math.sqrt(Math.max(0, d * d - ahead * ahead)) * Math.sign(dot(e, side));
      place.set(v, { across, along: i + ahead, d });
    });
  });
  const vertices = [...place.keys()];
  if (vertices.length < 12) return null;
  if (!overlap && vertices.some((v) => ground.taken[v] === 1)) return null;
  const length = path.points.length - 1;
  const height = (v: number): number => {
    const { across, along } = place.get(v) as { across: number; along: number };
    return line.profile(across, Math.min(length, Math.max(0, along)));
  };
  if (ground.folds(vertices, height)) return null;
  for (const v of vertices) ground.taken[v] = 1;
  const visible = ground.plant(own, vertices, height, line.depth);
  const middle = path.points[Math.floor(length / 2)];
  const nearest = visible.reduce((best, v) => (distance(ground.point(v), middle) < distance(ground.point(best), middle) ? v : best), visible[0] ?? vertices[0]);
  return {
    kind: line.kind, profile: line.name, region: ground.regionOf(nearest), centre: middle, depth: line.depth, width: line.width, length,
    path: Float64Array.from(path.points.flat()), vertices: visible,
  };
}

/** The edge of a turn of bandage: a low ridge 20 to 120 mm long that runs anywhere in any direction and fades at its ends. */
export function plantRidge(ground: Ground, own: number, random: Random, overlap: boolean): PlantedMark | null {
  const width = random.between(2, 8);
  const depth = random.between(0.3, 1.5) * Math.min(1, width / 3);
  const oneSided = random.chance(0.4);
  const half = width / 2 / 0.795;
  for (let attempt = 0; attempt < 30; attempt++) {
    const start = random.whole(0, ground.taken.length - 1);
    if (ground.taken[start] && !overlap) continue;
    const length = Math.round(20 * 6 ** random.next());
    const curve = wander(random, length);
    const path = walk(ground, ground.point(start), random.between(0, 2 * Math.PI), length, (s) => 0.012 * curve(s));
    if (!path) continue;
    const swell = wander(random, length);
    const profile: LineProfile = (across, along) => {
      const fade = smoothStep(0, 8, along) * smoothStep(0, 8, length - along);
      const strength = fade * (1 - 0.15 * (1 + Math.tanh(swell(along))));
      // One-sided: the flank on one side runs out three times as far.
      const u = across / (oneSided && across > 0 ? 3 * half : half);
      return Math.abs(u) >= 1 ? 0 : depth * strength * 0.5 * (1 + Math.cos(Math.PI * u));
    };
    let peak = 0;
    for (let s = 0; s <= length; s++) peak = Math.max(peak, profile(0, s));
    const planted = plantLine(ground, own, {
      kind: 'ridge', name: oneSided ? 'bandage edge, one-sided' : 'bandage edge', path, profile,
      depth: peak, width: oneSided ? width * 2 : width, reach: oneSided ? 3 * half : half,
    }, overlap);
    if (planted) return planted;
  }
  return null;
}

/**
 * The seam left where the cast was cut open along the top of the foot, from behind the toes to the crook of the ankle:
 * ridge, groove and step in shares that change along a wandering path, 2 to 6 mm wide and 0.3 to 1.8 mm high.
 */
export function plantSeam(ground: Ground, own: number, random: Random, from: Vector, to: Vector): PlantedMark | null {
  const width = random.between(2, 6);
  const size = random.between(0.3, 1.8) * Math.min(1, width / 3);
  const sway = wander(random, 60);
  const amplitude = random.between(1, 5);
  const path: Path = { points: [], normals: [] };
  const steps = Math.round(1.2 * distance(from, to));
  for (let i = 0; i <= steps; i++) {
    const s = i / steps;
    const side = amplitude * sway(s * 60);
    const straight: Vector = [from[0] + s * (to[0] - from[0]), from[1] + s * (to[1] - from[1]) + side, from[2] + s * (to[2] - from[2]) + 12 * Math.sin(Math.PI * s)];
    const { point, normal } = ground.land(straight);
    if (i > 0 && distance(point, path.points[path.points.length - 1]) < 0.5) continue;
    path.points.push(point);
    path.normals.push(normal);
  }
  const length = path.points.length - 1;
  const [mix, lean] = [wander(random, 80), wander(random, 80)];
  const bias = random.between(-0.4, 1.4);
  const half = width / 2 / 0.795;
  const shape: LineProfile = (across, along) => {
    const fade = smoothStep(0, 7, along) * smoothStep(0, 7, length - along);
    const u = across / half;
    if (Math.abs(u) >= 2) return 0;
    const ridge = Math.abs(u) >= 1 ? 0 : 0.5 * (1 + Math.cos(Math.PI * u));
    const step = 2.2 * u * (1 - u * u / 4) ** 3 * 0.6;
    return fade * (Math.tanh(bias + mix(along)) * ridge + 0.5 * Math.tanh(lean(along)) * step);
  };
  let peak = 0;
  for (let s = 0; s <= length; s++) for (let u = -2; u <= 2; u += 0.1) if (Math.abs(shape(u * half, s)) > Math.abs(peak)) peak = shape(u * half, s);
  const scale = size / Math.abs(peak);
  return plantLine(ground, own, {
    kind: 'seam', name: 'cut and closed', path, profile: (a, s) => scale * shape(a, s), depth: scale * peak, width: 1.6 * width, reach: 2 * half,
  }, true);
}

const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const unit = (a: Vector): Vector => {
  const l = Math.hypot(...a);
  return [a[0] / l, a[1] / l, a[2] / l];
};
const cross = (a: readonly number[], b: readonly number[]): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
