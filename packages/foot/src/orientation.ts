import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { frameTransform } from '@cast-to-last/geometry/numerics/transform';
import { cross, dot, unit } from '@cast-to-last/geometry/numerics/vectors';
import { flatterBelow } from './flatter-below.js';

/**
 * What a foot looks like along its length, as fractions of that length L, at stations 0.05, 0.15 … 0.95 from the heel.
 * Broad figures from common proportions (widths near ANSUR II's breadth / FL = 0.38 and heel breadth / FL = 0.27); from
 * memory where no survey gives them. They only need to tell a foot's ends and faces apart.
 */
const SHAPE = {
  bottom: [0.03, 0.01, 0.01, 0.02, 0.03, 0.02, 0.01, 0.01, 0.03, 0.05],
  bottomTolerance: 0.05,
  top: [0.3, 0.32, 0.32, 0.3, 0.28, 0.25, 0.22, 0.18, 0.14, 0.1],
  topTolerance: 0.06,
  /** Behind this station the leg rises, so only a top that is too low counts. */
  legEndsAt: 4,
  width: [0.19, 0.26, 0.27, 0.27, 0.3, 0.34, 0.38, 0.38, 0.34, 0.22],
  widthTolerance: 0.06,
  /** Feet are wider or narrower, higher or flatter as a whole by about this share; the widest looked at are a third wider. */
  proportionTolerance: 0.08,
  proportions: Array.from({ length: 17 }, (_, i) => 0.68 + 0.04 * i),
  /** Part of the points above this height must stand behind this station, by so much farther ahead for each higher one: a leg may lean forward by 31°. */
  legFloor: 0.36,
  legFront: 0.55,
  legLean: 0.6,
  /** The forefoot lies flat below over at least so much more of its breadth than above; what a turned foot is short of that weighs by the tolerance. */
  flatter: 0.1,
  flatterTolerance: 0.06,
  /** What fits worse than this by its profile is not looked at so closely. */
  promising: 50,
  /** mm; from those of children who begin to walk to the largest that are made shoes for. */
  length: [108, 345],
} as const;

const STATION_COUNT = 10;
const DIRECTIONS = 900;

/** How often the height of the leg's beginning is taken anew from the length of the foot below it. */
const LEG_ROUNDS = 2;

export interface Pose {
  /** Given coordinates → rough foot frame. */
  readonly transform: Transform;
  /** Sum of squared misfits; 0 is the very shape. Feet are below about 27, a cylinder or a shoe box is about 40. */
  readonly misfit: number;
}

export interface Opening {
  readonly centre: readonly [number, number, number];
  /** Unit normal pointing out of the cast. */
  readonly normal: readonly [number, number, number];
}

/**
 * The likeliest poses of a foot, best first: every direction of a sphere is tried as "up" with both headings along the
 * outline's long axis, and scored by the profile of bottom, top and width.
 *
 * @param points x, y, z, spread evenly over the surface (about 1,500 are enough)
 * @param opening the top opening where the scan has one
 */
export function likelyPoses(points: Float64Array, opening: Opening | null, count: number): Pose[] {
  const poses: Pose[] = [];
  const golden = Math.PI * (3 - Math.sqrt(5));
  for (let k = 0; k < DIRECTIONS; k++) {
    const z = 1 - (2 * k + 1) / DIRECTIONS;
    const r = Math.sqrt(1 - z * z);
    poses.push(...posesWithUp(points, [r * Math.cos(golden * k), r * Math.sin(golden * k), z], opening));
  }
  poses.sort((a, b) => a.misfit - b.misfit);
  const apart: Pose[] = [];
  for (const pose of poses) {
    if (apart.length >= count) break;
    if (apart.every((other) => axisAgreement(other.transform, pose.transform) < Math.cos((14 * Math.PI) / 180))) apart.push(pose);
  }
  return apart;
}

/** The lesser of the cosines between the x axes and the z axes of two poses. */
export function axisAgreement(a: Transform, b: Transform): number {
  const x = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const z = a[8] * b[8] + a[9] * b[9] + a[10] * b[10];
  return Math.min(x, z);
}

function posesWithUp(points: Float64Array, up: readonly [number, number, number], opening: Opening | null): Pose[] {
  if (opening !== null && dot(opening.normal, up) < 0) return [];
  const u0 = Math.abs(up[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
  const u = unit(sub(u0, up, dot(u0, up)));
  const v = cross(up, u);
  const n = points.length / 3;
  let mu = 0;
  let mv = 0;
  let uu = 0;
  let uv = 0;
  let vv = 0;
  for (let i = 0; i < points.length; i += 3) {
    const a = u[0] * points[i] + u[1] * points[i + 1] + u[2] * points[i + 2];
    const b = v[0] * points[i] + v[1] * points[i + 1] + v[2] * points[i + 2];
    mu += a;
    mv += b;
    uu += a * a;
    uv += a * b;
    vv += b * b;
  }
  mu /= n;
  mv /= n;
  const angle = 0.5 * Math.atan2(2 * (uv / n - mu * mv), uu / n - mu * mu - (vv / n - mv * mv));
  const along = [0, 1, 2].map((k) => Math.cos(angle) * u[k] + Math.sin(angle) * v[k]);
  return [along, along.map((c) => -c)].map((x) => scorePose(points, x, up, opening));
}

/** The pose with these axes, set down at its own lowest and rearmost points, with its misfit. */
export function scorePose(points: Float64Array, x: ArrayLike<number>, z: ArrayLike<number>, opening: Opening | null): Pose {
  const y = cross(z, x);
  const a = alongAxis(points, x);
  const b = alongAxis(points, y);
  const c = alongAxis(points, z);
  const [minZ, maxZ] = rangeOf(c);
  const [minX, maxX] = rangeBelowLeg(a, c, minZ);
  let sumY = 0;
  for (let i = 0; i < b.length; i++) sumY += b[i];
  const n = points.length / 3;
  const length = maxX - minX;
  const { bottom, top, left, right, astray } = profileOf(a, b, c, minX, minZ, length);
  let misfit = 200 * (astray / n);
  for (let s = 0; s < STATION_COUNT; s++) misfit += square((bottom[s] - SHAPE.bottom[s]) / SHAPE.bottomTolerance);
  misfit += inProportion((s, share) => square((share * Math.max(0, left[s] - right[s]) - SHAPE.width[s]) / SHAPE.widthTolerance));
  misfit += inProportion((s, share) => {
    const over = share * top[s] - SHAPE.top[s];
    return square((s < SHAPE.legEndsAt ? Math.min(0, over) : over) / SHAPE.topTolerance);
  });
  misfit += square(Math.max(0, SHAPE.length[0] - length, length - SHAPE.length[1]) / 10);
  if (opening !== null) {
    const at = (dot(opening.centre, x) - minX) / length;
    const height = (dot(opening.centre, z) - minZ) / (maxZ - minZ);
    misfit += square(Math.max(0, at - 0.45, -0.1 - at) / 0.08) + square(Math.max(0, 0.75 - height) / 0.1);
  }
  if (misfit < SHAPE.promising) misfit += square(Math.max(0, SHAPE.flatter - flatterBelow(a, b, c, minX, length)) / SHAPE.flatterTolerance);
  const origin = [0, 1, 2].map((k) => minX * x[k] + minZ * z[k] + (sumY / n) * y[k]);
  return { transform: frameTransform(x, y, z, origin), misfit };
}

/** The misfit summed over the stations where all values are taken times the one share that suits them best, itself at a cost. */
function inProportion(misfitAt: (station: number, share: number) => number): number {
  let least = Infinity;
  for (const share of SHAPE.proportions) {
    let misfit = square((share - 1) / SHAPE.proportionTolerance);
    for (let s = 0; s < STATION_COUNT && misfit < least; s++) misfit += misfitAt(s, share);
    least = Math.min(least, misfit);
  }
  return least;
}

/** How far the points lie along an axis. */
function alongAxis(points: Float64Array, axis: ArrayLike<number>): Float64Array {
  const out = new Float64Array(points.length / 3);
  const x = axis[0];
  const y = axis[1];
  const z = axis[2];
  for (let i = 0, k = 0; i < out.length; i++, k += 3) out[i] = x * points[k] + y * points[k + 1] + z * points[k + 2];
  return out;
}

function rangeOf(values: Float64Array): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < values.length; i++) {
    if (values[i] < low) low = values[i];
    if (values[i] > high) high = values[i];
  }
  return [low, high];
}

/** How far the points reach along the foot that stand no higher than the leg begins; all of them where the leg does not lean. */
function rangeBelowLeg(along: Float64Array, up: Float64Array, minZ: number): [number, number] {
  let [low, high] = rangeOf(along);
  for (let round = 0; round < LEG_ROUNDS; round++) {
    const ceiling = minZ + SHAPE.legFloor * (high - low);
    let least = Infinity;
    let most = -Infinity;
    for (let i = 0; i < along.length; i++) {
      if (up[i] > ceiling) continue;
      if (along[i] < least) least = along[i];
      if (along[i] > most) most = along[i];
    }
    low = least;
    high = most;
  }
  return [low, high];
}

/** Bottom, top and the two sides at each station, as fractions of the length, and how many points stand high ahead of the leg. */
interface Profile {
  readonly bottom: Float64Array;
  readonly top: Float64Array;
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly astray: number;
}

function profileOf(along: Float64Array, across: Float64Array, up: Float64Array, minX: number, minZ: number, length: number): Profile {
  const bottom = new Float64Array(STATION_COUNT).fill(Infinity);
  const top = new Float64Array(STATION_COUNT).fill(-Infinity);
  const left = new Float64Array(STATION_COUNT).fill(-Infinity);
  const right = new Float64Array(STATION_COUNT).fill(Infinity);
  const { legFloor, legFront, legLean } = SHAPE;
  let astray = 0;
  for (let i = 0; i < along.length; i++) {
    const t = (along[i] - minX) / length;
    const h = (up[i] - minZ) / length;
    const w = across[i] / length;
    const s = Math.min(STATION_COUNT - 1, Math.floor(t * STATION_COUNT));
    const isAstray = h > legFloor && t > legFront + legLean * (h - legFloor);
    if (isAstray) astray++;
    if (s < 0) continue;
    if (h < bottom[s]) bottom[s] = h;
    // A leg that leans over the foot is not the foot's top.
    if (h > top[s] && (h <= legFloor || isAstray || s < SHAPE.legEndsAt)) top[s] = h;
    if (h < 0.25) {
      if (w > left[s]) left[s] = w;
      if (w < right[s]) right[s] = w;
    }
  }
  return { bottom, top, left, right, astray };
}

const sub = (a: ArrayLike<number>, b: ArrayLike<number>, s: number): number[] => [a[0] - s * b[0], a[1] - s * b[1], a[2] - s * b[2]];
/** Misfits past four tolerances count no more, so that one odd station does not outvote the rest. */
const square = (x: number): number => Math.min(16, Number.isFinite(x) ? x * x : 16);
