import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { splitLongEdges } from '@cast-to-last/geometry/remeshing/split-long-edges';
import type { CornerRay } from './corner.js';
import { cornerRay, pivotOf, RAY_MOST } from './corner.js';
import type { EdgeShape } from './edge-shape.js';
import { cornerAt } from './edge-shape.js';
import type { OutlineIndex, OutlinePlace } from './outline-index.js';

export const ROUND = {
  /** Edges on the fillet turn by no more than this, radians. */
  turn: (12 * Math.PI) / 180,
  /** Rounds of halving edges. */
  rounds: 9,
  /** Heights below which the corner passes softly into the foot, mm. */
  soft: 0.2,
  /** No vertex is moved further than this, mm. */
  most: 12,
  /** Nothing nearer to the pivot than this belongs to the edge, mm. */
  core: 2,
  /** How much higher than at all samples a pivot may lie between them, mm. */
  between: 3,
} as const;

export interface RoundedEdge {
  /** The vertices of the mesh that was rounded come first. */
  readonly mesh: Mesh;
  /** The two vertices between which each new one was put. */
  readonly ends: Uint32Array;
  /** How far a vertex was moved at most, mm. */
  readonly most: number;
}

/** Makes the edge of a sole: material is put into the corner between sole and side, with a fillet of the radius. */
export function roundEdge(mesh: Mesh, shape: EdgeShape, index: OutlineIndex, radius: number): RoundedEdge {
  const zone = new EdgeZone(shape, index, radius);
  const { mesh: refined, ends, faces: { add } } = refinedZone(mesh, onCorner(mesh, NONE_KNOWN, zone), zone);
  const positions = refined.positions.slice();
  let most = 0;
  for (let v = 0; v < add.length; v++) {
    if (add[v] === 0) continue;
    zone.place(refined.positions, v);
    for (let k = 0; k < 3; k++) positions[3 * v + k] += add[v] * zone.ray[k];
    most = Math.max(most, add[v]);
  }
  return { mesh: { positions, triangles: refined.triangles }, ends, most };
}

/** The mesh with the edges halved that turn too much on the fillet. */
function refinedZone(mesh: Mesh, before: OnCorner, zone: EdgeZone): { mesh: Mesh; ends: Uint32Array; faces: OnCorner } {
  const { positions: p, triangles: t } = mesh;
  const all = p.length / 3;
  // A triangle without an edge to halve stays whole in every round: none of its corners is moved before the end.
  const { local, rest } = parted(t, (f) => turnsTooMuch(before, t[f], t[f + 1]) || turnsTooMuch(before, t[f + 1], t[f + 2]) || turnsTooMuch(before, t[f + 2], t[f]));
  const number = new Int32Array(all).fill(-1);
  const global: number[] = [];
  for (let i = 0; i < local.length; i++) {
    const v = local[i];
    if (number[v] < 0) number[v] = global.push(v) - 1;
    local[i] = number[v];
  }
  const start = global.length;
  let part: Mesh = { positions: Float64Array.from({ length: 3 * start }, (_, i) => p[3 * global[(i / 3) | 0] + (i % 3)]), triangles: local };
  let faces: OnCorner = { facing: Float64Array.from(global, (v) => before.facing[v]), add: Float64Array.from(global, (v) => before.add[v]) };
  const ends: number[] = [];
  for (let round = 0; round < ROUND.rounds; round++) {
    const now = faces;
    const split = splitLongEdges(part, 0, (a, b) => turnsTooMuch(now, a, b));
    if (split.ends.length === 0) break;
    faces = onCorner(split.mesh, faces, zone);
    for (const v of split.ends) ends.push(v < start ? global[v] : all + v - start);
    part = split.mesh;
  }
  if (ends.length === 0) return { mesh, ends: new Uint32Array(0), faces: before };
  const positions = new Float64Array(p.length + part.positions.length - 3 * start);
  positions.set(p);
  positions.set(part.positions.subarray(3 * start), p.length);
  const triangles = new Uint32Array(rest.length + part.triangles.length);
  triangles.set(rest);
  for (let i = 0; i < part.triangles.length; i++) {
    const v = part.triangles[i];
    triangles[rest.length + i] = v < start ? global[v] : all + v - start;
  }
  const carried = (known: Float64Array, found: Float64Array): Float64Array => {
    const out = new Float64Array(all + found.length - start);
    out.set(known);
    out.set(found.subarray(start), all);
    return out;
  };
  return { mesh: { positions, triangles }, ends: Uint32Array.from(ends), faces: { facing: carried(before.facing, faces.facing), add: carried(before.add, faces.add) } };
}

/** The corners of the triangles that are chosen, and of all others. */
function parted(t: Uint32Array, chosen: (f: number) => boolean): { local: Uint32Array; rest: Uint32Array } {
  const local: number[] = [];
  const rest = new Uint32Array(t.length);
  let size = 0;
  for (let f = 0; f < t.length; f += 3) {
    if (chosen(f)) local.push(t[f], t[f + 1], t[f + 2]);
    else for (let k = f; k < f + 3; k++) rest[size++] = t[k];
  }
  return { local: Uint32Array.from(local), rest: rest.slice(0, size) };
}

const turnsTooMuch = ({ facing, add }: OnCorner, a: number, b: number): boolean => Math.abs(facing[a] - facing[b]) > ROUND.turn && add[a] > ROUND.soft && add[b] > ROUND.soft;

/** Where vertices face on the corner, radians (NaN for those that it does not reach), and how far they go, mm. */
interface OnCorner {
  readonly facing: Float64Array;
  readonly add: Float64Array;
}

const NONE_KNOWN: OnCorner = { facing: new Float64Array(0), add: new Float64Array(0) };

/** Of all vertices, of which those before `known` ends are known. */
function onCorner({ positions }: Mesh, known: OnCorner, zone: EdgeZone): OnCorner {
  const count = positions.length / 3;
  const facing = new Float64Array(count).fill(NaN);
  const add = new Float64Array(count);
  facing.set(known.facing);
  add.set(known.add);
  for (let v = known.add.length; v < count; v++) {
    if (!zone.place(positions, v)) continue;
    facing[v] = zone.facing;
    add[v] = zone.add;
  }
  return { facing, add };
}

/** Tells of a point whether it lies at the edge, and where it goes. */
class EdgeZone {
  /** Unit vector from the pivot to the point, how far the point goes along it (mm), and where the corner faces there. */
  readonly ray = new Float64Array(3);
  add = 0;
  facing = 0;
  private readonly shape: EdgeShape;
  private readonly index: OutlineIndex;
  private readonly radius: number;
  /** Nothing above this z is reached by any corner, mm. */
  private readonly ceiling: number;
  private readonly at: OutlinePlace = { sample: 0, share: 0, out: 0 };
  private readonly met: CornerRay = { distance: 0, facing: 0, share: 0 };

  constructor(shape: EdgeShape, index: OutlineIndex, radius: number) {
    this.shape = shape;
    this.index = index;
    this.radius = radius;
    let highest = -Infinity;
    for (let s = 0; s < shape.outline.count; s++) {
      const { sole, side } = cornerAt(shape, s, 0);
      if (shape.share[s] > 0) highest = Math.max(highest, pivotOf(sole, side)[1]);
    }
    this.ceiling = highest + ROUND.between + RAY_MOST + ROUND.most;
  }

  /** Whether the corner reaches vertex v; `add` may still be 0. */
  place(p: Float64Array, v: number): boolean {
    const { shape, at, met } = this;
    if (p[3 * v + 2] > this.ceiling || !this.index.locate(p[3 * v], p[3 * v + 1], at)) return false;
    const next = (at.sample + 1) % shape.outline.count;
    const share = shape.share[at.sample] + at.share * (shape.share[next] - shape.share[at.sample]);
    if (share <= 0) return false;
    const corner = cornerAt(shape, at.sample, at.share);
    const [out, up] = pivotOf(corner.sole, corner.side);
    const dx = at.out - out;
    const dz = up - p[3 * v + 2];
    const direction = Math.atan2(dx, dz);
    const distance = Math.sqrt(dx * dx + dz * dz);
    cornerRay(corner, this.radius, direction, met);
    if (Number.isNaN(met.distance)) return false;
    const off = met.distance - distance;
    if (distance < ROUND.core || off > ROUND.most || off < -ROUND.most) return false;
    this.add = share * met.share * softly(off);
    this.facing = met.facing;
    const { outward } = shape.outline;
    const nx = outward[2 * at.sample] + at.share * (outward[2 * next] - outward[2 * at.sample]);
    const ny = outward[2 * at.sample + 1] + at.share * (outward[2 * next + 1] - outward[2 * at.sample + 1]);
    const size = Math.hypot(nx, ny) * distance;
    this.ray[0] = (dx * nx) / size;
    this.ray[1] = (dx * ny) / size;
    this.ray[2] = -dz / distance;
    return true;
  }
}

/** The positive part of a height, rounded off where it begins. */
function softly(height: number): number {
  if (height >= ROUND.soft) return height;
  return height <= -ROUND.soft ? 0 : (height + ROUND.soft) ** 2 / (4 * ROUND.soft);
}
