import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { smoothMin } from '../surface/implicit.js';
import type { Random } from '../random.js';
import type { Scene } from './draw-scene.js';
import type { Solid } from './solids.js';

export interface ScannerTraits {
  readonly edge: number;
  readonly views: number;
  readonly round: number;
  readonly noise: number;
  /** How far the scanner sees every surface outside of where it is. */
  readonly offset: number;
  /** How far the views of one half are shifted against the others. */
  readonly misfit: number;
  readonly damage: boolean;
}

export interface SeenSurface {
  readonly mesh: Mesh;
  /** Share of each gauge ball's surface that is left, and points on it. */
  readonly seen: readonly number[];
  readonly points: readonly number[];
}

/** What a scanner delivers of a scene: the skins of its bodies melted together, where a view reaches them, with noise and accidents. */
export function seenSurface(scene: Scene, traits: ScannerTraits, random: Random): SeenSurface {
  const views = drawViews(traits, random.fork('views'));
  const shift = random.fork('misfit');
  const apart = [shift.normal(0, 1), shift.normal(0, 1), shift.normal(0, 1)].map((c, _, all) => (traits.misfit * c) / Math.hypot(...all));
  const field = (x: number, y: number, z: number): number => scene.solids.reduce((least, s) => smoothMin(least, s.distance(x, y, z), scene.fillet), 1e3);
  const grazing = random.pick([random.between(0.12, 0.35), random.between(0.12, 0.35), random.between(0.35, 0.7)]);
  const rough = noiseField(random.fork('rough'));
  const positions: number[] = [];
  const triangles: number[] = [];
  const seen: number[] = [];
  const points: number[] = [];
  scene.solids.forEach((solid, number) => {
    const isBall = number < scene.centres.length;
    const own = random.fork(`skin ${number}`);
    const skin = solid.skin(isBall ? traits.edge : clutterEdge(solid, traits.edge, own));
    const part = scanSkin(scene, solid, isBall ? shaken(skin, scene.centres[number], scene.diameter / 2, traits.edge, own) : skin, { field, views, grazing });
    if (isBall && traits.damage) punch(part, scene.centres[number], scene.diameter / 2, own);
    const kept = keptPart(part);
    const edgeVertices = boundary(kept.triangles);
    const share = isBall ? shareOfBall(kept, scene.centres[number], scene.diameter / 2) : 0;
    for (let v = 0; v < kept.view.length; v++) {
      const n = [kept.normals[3 * v], kept.normals[3 * v + 1], kept.normals[3 * v + 2]];
      const line = views[kept.view[v]];
      const facing = Math.max(0.3, n[0] * line[0] + n[1] * line[1] + n[2] * line[2]);
      const p = [kept.positions[3 * v], kept.positions[3 * v + 1], kept.positions[3 * v + 2]];
      let off = (traits.noise * Math.SQRT1_2 * (own.normal(0, 1) + rough(p[0], p[1], p[2]))) / facing;
      if (traits.damage && own.chance(0.002)) off += own.pick([-1, 1]) * own.between(0.2, 2);
      const lift = traits.offset + (traits.damage && edgeVertices.has(v) ? own.between(-0.12, 0.12) : 0);
      const aside = kept.view[v] % 2 === 0 ? 0 : 1;
      for (let k = 0; k < 3; k++) kept.positions[3 * v + k] = p[k] + off * line[k] + lift * n[k] + aside * apart[k];
    }
    const first = positions.length / 3;
    for (const c of kept.positions) positions.push(c);
    for (const t of kept.triangles) triangles.push(first + t);
    if (isBall) {
      seen.push(share);
      points.push(kept.view.length);
    }
  });
  if (traits.damage) crumbs(scene, positions, triangles, random.fork('crumbs'));
  return { mesh: { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) }, seen, points };
}

/** Directions to the scanner, all from above, round a part of the horizon. */
function drawViews({ views, round }: ScannerTraits, random: Random): number[][] {
  const start = random.between(0, 2 * Math.PI);
  return Array.from({ length: views }, (_, i) => {
    const turn = start + 2 * Math.PI * round * ((i + random.between(-0.3, 0.3)) / views);
    const height = random.between(0.05, 1.2);
    return [Math.cos(height) * Math.cos(turn), Math.cos(height) * Math.sin(turn), Math.sin(height)];
  });
}

const clutterEdge = (solid: Solid, edge: number, random: Random): number => (solid.name === 'table' ? Math.max(2, edge * random.between(1.5, 4)) : Math.max(0.8, edge * random.between(1, 2.5)));

/** A ball's skin turned at random, its vertices moved along the skin by up to a third of an edge. */
function shaken(skin: Mesh, centre: readonly number[], radius: number, edge: number, random: Random): Mesh {
  const q = [0, 1, 2, 3].map(() => random.normal(0, 1));
  const l = Math.hypot(...q);
  const [w, a, b, c] = q.map((x) => x / l);
  const R = [
    1 - 2 * (b * b + c * c), 2 * (a * b - w * c), 2 * (a * c + w * b),
    2 * (a * b + w * c), 1 - 2 * (a * a + c * c), 2 * (b * c - w * a),
    2 * (a * c - w * b), 2 * (b * c + w * a), 1 - 2 * (a * a + b * b),
  ];
  const shake = random.between(0, 0.25) * edge;
  const positions = skin.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const p = [0, 1, 2].map((k) => skin.positions[i + k] - centre[k]);
    const turned = [0, 1, 2].map((k) => R[3 * k] * p[0] + R[3 * k + 1] * p[1] + R[3 * k + 2] * p[2] + random.between(-shake, shake));
    const f = radius / Math.hypot(...turned);
    for (let k = 0; k < 3; k++) positions[i + k] = centre[k] + f * turned[k];
  }
  return { positions, triangles: skin.triangles };
}

interface SkinPart {
  readonly positions: Float64Array;
  readonly normals: Float64Array;
  readonly triangles: Uint32Array;
  /** The view that faces each vertex best; −1 where none sees it. */
  readonly view: Int16Array;
}

interface Looking {
  readonly field: (x: number, y: number, z: number) => number;
  readonly views: readonly (readonly number[])[];
  /** Least cosine at which a surface is still seen. */
  readonly grazing: number;
}

/** Vertices of one body's skin put on the melted surface, and the view that sees each. */
function scanSkin(scene: Scene, solid: Solid, skin: Mesh, { field, views, grazing }: Looking): SkinPart {
  const p = skin.positions.slice();
  const normals = new Float64Array(p.length);
  const view = new Int16Array(p.length / 3).fill(-1);
  const others = scene.solids.filter((s) => s !== solid);
  const step = 1e-3;
  for (let v = 0; v < view.length; v++) {
    const at = p.subarray(3 * v, 3 * v + 3);
    if (others.some((s) => s.distance(at[0], at[1], at[2]) < 0) || Math.abs(solid.distance(at[0], at[1], at[2])) > 0.05) continue;
    const n = [0, 0, 0];
    for (let round = 0; round < 3; round++) {
      const f = field(at[0], at[1], at[2]);
      n[0] = (field(at[0] + step, at[1], at[2]) - f) / step;
      n[1] = (field(at[0], at[1] + step, at[2]) - f) / step;
      n[2] = (field(at[0], at[1], at[2] + step) - f) / step;
      const square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2] || 1;
      if (round === 2 && Math.abs(f) < 1e-9) break;
      for (let k = 0; k < 3; k++) at[k] -= (f * n[k]) / square;
    }
    const length = Math.hypot(n[0], n[1], n[2]) || 1;
    for (let k = 0; k < 3; k++) normals[3 * v + k] = n[k] / length;
    const byFacing = views.map((line, i) => ({ i, facing: (n[0] * line[0] + n[1] * line[1] + n[2] * line[2]) / length })).sort((a, b) => b.facing - a.facing);
    for (const { i, facing } of byFacing) {
      if (facing < grazing) break;
      if (!reaches(field, at, normals.subarray(3 * v, 3 * v + 3), views[i], 4 * scene.diameter)) continue;
      view[v] = i;
      break;
    }
  }
  return { positions: p, normals, triangles: skin.triangles, view };
}

/** Whether nothing stands between a point and the scanner. */
function reaches(field: Looking['field'], at: Float64Array, n: Float64Array, line: readonly number[], far: number): boolean {
  const from = [0, 1, 2].map((k) => at[k] + 0.15 * n[k]);
  for (let t = 0.1; t < far; ) {
    const d = field(from[0] + t * line[0], from[1] + t * line[1], from[2] + t * line[2]);
    if (d < 0.02) return false;
    t += Math.max(0.1, 0.9 * d);
  }
  return true;
}

/** Holes in what was seen of a ball: glare, dust, a marker. */
function punch({ positions, view }: SkinPart, centre: readonly number[], radius: number, random: Random): void {
  for (let i = random.whole(0, 3); i > 0; i--) {
    const towards = [random.normal(0, 1), random.normal(0, 1), random.normal(0, 1)].map((c, _, all) => c / Math.hypot(...all));
    const wide = random.between(0.05, 0.35) * radius;
    for (let v = 0; v < view.length; v++) {
      if (Math.hypot(...[0, 1, 2].map((k) => positions[3 * v + k] - centre[k] - radius * towards[k])) < wide) view[v] = -1;
    }
  }
}

/** The triangles whose three corners are seen. */
function keptPart({ positions, normals, triangles, view }: SkinPart): { positions: Float64Array; normals: Float64Array; view: Int16Array; triangles: number[] } {
  const number = new Int32Array(view.length).fill(-1);
  const kept: number[] = [];
  const out: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    if (corners.some((v) => view[v] < 0)) continue;
    for (const v of corners) {
      if (number[v] < 0) number[v] = kept.push(v) - 1;
      out.push(number[v]);
    }
  }
  const of = (values: Float64Array): Float64Array => Float64Array.from({ length: 3 * kept.length }, (_, i) => values[3 * kept[(i / 3) | 0] + (i % 3)]);
  return { positions: of(positions), normals: of(normals), view: Int16Array.from(kept, (v) => view[v]), triangles: out };
}

/** Share of a ball's surface under those triangles that melting into its stand has not drawn off it. */
function shareOfBall({ positions: p, triangles: t }: { positions: Float64Array; triangles: readonly number[] }, centre: readonly number[], radius: number): number {
  let area = 0;
  for (let i = 0; i < t.length; i += 3) {
    const corners = [t[i], t[i + 1], t[i + 2]].map((v) => [0, 1, 2].map((k) => p[3 * v + k] - centre[k]));
    if (corners.some((c) => Math.abs(Math.hypot(...c) - radius) > 0.02)) continue;
    const [u, w] = [1, 2].map((n) => [0, 1, 2].map((k) => corners[n][k] - corners[0][k]));
    area += Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]) / 2;
  }
  return area / (4 * Math.PI * radius * radius);
}

/** Vertices on edges that have one triangle. */
function boundary(triangles: readonly number[]): Set<number> {
  const open = new Map<string, readonly [number, number]>();
  for (let h = 0; h < triangles.length; h++) {
    const [a, b] = [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
    if (!open.delete(`${b} ${a}`)) open.set(`${a} ${b}`, [a, b]);
  }
  return new Set([...open.values()].flat());
}

/** Specks that float about the balls. */
function crumbs(scene: Scene, positions: number[], triangles: number[], random: Random): void {
  for (let i = random.whole(0, 25); i > 0; i--) {
    const about = scene.centres.length === 0 ? [0, 0, scene.diameter] : random.pick(scene.centres);
    const size = random.between(0.1, 1.5);
    const first = positions.length / 3;
    const at = [0, 1, 2].map((k) => about[k] + random.normal(0, 0.6 * scene.diameter));
    for (let n = 0; n < 4; n++) positions.push(...at.map((c) => c + random.between(-size, size)));
    triangles.push(first, first + 1, first + 2, first, first + 3, first + 1, first + 1, first + 3, first + 2, first, first + 2, first + 3);
  }
}

/** Noise of standard deviation 1 that goes together over about 1.5 mm: a sum of waves in random directions. */
function noiseField(random: Random): (x: number, y: number, z: number) => number {
  const waves = Array.from({ length: 24 }, () => {
    const k = (2 * Math.PI) / random.between(2, 6);
    const d = [random.normal(0, 1), random.normal(0, 1), random.normal(0, 1)];
    const l = Math.hypot(...d);
    return [(k * d[0]) / l, (k * d[1]) / l, (k * d[2]) / l, random.between(0, 2 * Math.PI)];
  });
  const scale = Math.sqrt(2 / waves.length);
  return (x, y, z) => scale * waves.reduce((sum, w) => sum + Math.cos(w[0] * x + w[1] * y + w[2] * z + w[3]), 0);
}
