import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { rimShape } from '@cast-to-last/geometry/repair/rim-shape';
import type { RimShape } from '@cast-to-last/geometry/repair/rim-shape';
import { symmetricEigen } from '@cast-to-last/geometry/numerics/symmetric-eigen';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';
import { cross, unit } from '@cast-to-last/geometry/numerics/vectors';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { flatTop } from './flat-top.js';

/**
 * Tells the opening at the top of a cast from holes by the shape of its rim and by what lies beyond it. Each trait has a
 * range in which it speaks for an opening (doubt 0) and a value at which it rules one out (doubt 1), from the first to the
 * second number. Set on hand-made casts and on feet cut at heights of 60 to 180 mm; the ranges are wide.
 */
export const OPENING_DEFAULTS = {
  /** Length of a tape round the rim, mm: too short below, too long above. The former of a cast of this length or more; a child's in proportion. */
  fullLength: 240,
  shortPerimeter: [180, 115],
  longPerimeter: [420, 600],
  /** Longest over shortest width of the rim. An open sole has 2.2 to 3. */
  aspect: [1.8, 2.2],
  /** Angle between the surface at the rim and the rim's plane, degrees: a tube's end has 90, a hole in a flat part 0. */
  steepnessDeg: [62, 38],
  /** Root mean square distance of the rim from its plane, over its radius. */
  unevenness: [0.2, 0.7],
  /**
   * A tape half a radius inside the rim, round what lies up to `growthWithin` radii from its middle, over that round the rim:
   * a leg keeps its girth or runs out into the foot below the ankle, behind a hole in a heel or a side the cast is far thicker.
   */
  growth: [1.5, 1.8],
  growthWithin: 2.5,
  /** Share of the cast that lies beyond the rim's plane. */
  beyond: [0.02, 0.3],
  /** Cosine between the rim's normal and the cast's long axis: a cut through toes or heel has 1. Counts half. */
  acrossLength: [0.6, 1],
  /** Of two openings without doubt the steeper and rounder one is chosen: doubt for each 90° and each 1 of aspect. */
  lessSteep: 0.5,
  lessRound: 0.3,
  /** Doubt where a flat face closes the top. */
  closed: 0.6,
  /** Most doubt, summed over the traits, that an opening may have. */
  mostDoubt: 1.2,
} as const;

/** Index of the loop that is the opening at the top, or −1. Loops have the surface on their left. */
export function findOpening(mesh: Mesh, loops: readonly Uint32Array[], around: Rows): number {
  let best = -1;
  let least = Infinity;
  let size: Size | null = null;
  loops.forEach((loop, i) => {
    const [, shortest] = OPENING_DEFAULTS.shortPerimeter;
    if (lengthOf(mesh, loop) < LEAST_SCALE * shortest) return;
    const shape = rimShape(mesh, around, loop);
    size ??= sizeOf(mesh);
    if (shape === null || shape.tape < size.scale * shortest) return;
    const doubt = doubtOf(mesh, shape, size);
    if (doubt < least) {
      least = doubt;
      best = i;
    }
  });
  // A flat face that closes the top counts against all alike: it is looked for only where it decides.
  const { mostDoubt, closed } = OPENING_DEFAULTS;
  if (least > mostDoubt) return -1;
  return least + closed <= mostDoubt || flatTop(mesh) === null ? best : -1;
}

function lengthOf({ positions: p }: Mesh, loop: Uint32Array): number {
  let sum = 0;
  for (let i = 0; i < loop.length; i++) {
    const a = 3 * loop[i];
    const b = 3 * loop[(i + 1) % loop.length];
    sum += Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
  }
  return sum;
}

/** Summed doubt of a loop as an opening, but for a top that is closed; Infinity where one trait rules it out. */
function doubtOf(mesh: Mesh, shape: RimShape, { axis, scale }: Size): number {
  const d = OPENING_DEFAULTS;
  const [fair, short] = d.shortPerimeter;
  const across = Math.abs(shape.normal.reduce((sum, c, k) => sum + c * axis[k], 0));
  const doubts = [
    ramp(shape.tape, [scale * fair, scale * short]),
    ramp(shape.tape, d.longPerimeter),
    ramp(shape.aspect, d.aspect),
    ramp((shape.steepness * 180) / Math.PI, d.steepnessDeg),
    ramp(shape.unevenness / shape.radius, d.unevenness),
    ramp(growthInside(mesh, shape), d.growth),
    ramp(shareBeyond(mesh, shape), d.beyond),
    ramp(across, d.acrossLength) / 2,
    (d.lessSteep * Math.abs(Math.PI / 2 - shape.steepness)) / (Math.PI / 2),
    d.lessRound * (shape.aspect - 1),
  ];
  return doubts.some((x) => x >= 1) ? Infinity : doubts.reduce((sum, x) => sum + x, 0);
}

/** 0 at and before the first number, 1 at and past the second. */
const ramp = (value: number, [none, full]: readonly [number, number]): number =>
  Math.max(0, Math.min(1, (value - none) / (full - none)));

/** Share of the vertices farther beyond the rim's plane than the rim's own unevenness explains. */
function shareBeyond(mesh: Mesh, shape: RimShape): number {
  const { positions: p } = mesh;
  const [x, y, z] = shape.normal;
  const [cx, cy, cz] = shape.centre;
  const margin = Math.max(0.25 * shape.radius, 2 * shape.unevenness);
  const step = Math.max(1, Math.floor(vertexCount(mesh) / 5000));
  let beyond = 0;
  let all = 0;
  for (let v = 0; v < p.length; v += 3 * step) {
    all++;
    if (x * (p[v] - cx) + y * (p[v + 1] - cy) + z * (p[v + 2] - cz) > margin) beyond++;
  }
  return beyond / all;
}

/** The tape round what lies about half a radius inside the rim's plane, not far from its middle, over that round the rim. */
function growthInside({ positions: p }: Mesh, { normal, centre, radius, tape }: RimShape): number {
  const [x, y, z] = normal;
  const farthest = (OPENING_DEFAULTS.growthWithin * radius) ** 2;
  const points: number[] = [];
  for (let v = 0; v < p.length; v += 3) {
    const a = p[v] - centre[0];
    const b = p[v + 1] - centre[1];
    const c = p[v + 2] - centre[2];
    const inside = -(x * a + y * b + z * c);
    if (inside < 0.4 * radius || inside > 0.6 * radius || a * a + b * b + c * c - inside * inside > farthest) continue;
    points.push(p[v], p[v + 1], p[v + 2]);
  }
  const u = unit(cross(normal, Math.abs(x) < 0.8 ? [1, 0, 0] : [0, 1, 0]));
  return tapeRound(Float64Array.from(points), u, cross(normal, u)).length / tape;
}

/** How a cast lies and how large it is. */
interface Size {
  readonly axis: Float64Array;
  /** Its length along the axis over that from which on openings are full size, at most 1. */
  readonly scale: number;
}

/** No cast is smaller than this, as a share of one from which on openings are full size. */
const LEAST_SCALE = 0.4;

function sizeOf(mesh: Mesh): Size {
  const axis = longAxis(mesh);
  const { positions: p } = mesh;
  let low = Infinity;
  let high = -Infinity;
  for (let v = 0; v < p.length; v += 3) {
    const at = axis[0] * p[v] + axis[1] * p[v + 1] + axis[2] * p[v + 2];
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return { axis, scale: Math.max(LEAST_SCALE, Math.min(1, (high - low) / OPENING_DEFAULTS.fullLength)) };
}

/** Unit vector along which the vertices spread most. */
function longAxis(mesh: Mesh): Float64Array {
  const { positions: p } = mesh;
  const n = vertexCount(mesh);
  const mean = [0, 0, 0];
  for (let v = 0; v < p.length; v++) mean[v % 3] += p[v] / n;
  const m = new Float64Array(9);
  for (let v = 0; v < p.length; v += 3) {
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) m[3 * r + c] += (p[v + r] - mean[r]) * (p[v + c] - mean[c]);
  }
  return symmetricEigen(m).vectors[0];
}
