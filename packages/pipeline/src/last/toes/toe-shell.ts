import { splineWeights } from '../ease/smooth-curve.js';
import type { HullExit } from './hull-exit.js';
import type { ToeFrame } from './toe-frame.js';
import { columnIn, columnOf, partAt, rayAt } from './toe-frame.js';
import type { ToeNet } from './toe-net.js';
import { averaged, netPoint, normalsOf } from './toe-net.js';

export const SHELL = {
  /** Distance of the rings at which the hull is read, and of the columns over the dorsum, mm. */
  spacing: 2.5,
  /** Rings round the toes' ends. */
  turnRings: 10,
  /** Most by which the rings may close up towards them, as a share of their mean distance. */
  mostTaper: 0.7,
  /** Rounds of blur, and of taking back what the blur sank below the hull. */
  blur: 2,
  rounds: 12,
  /** Rings at the start that are not held outside: there the foot's own surface counts still. */
  free: 1,
  /** How far the faired surface keeps outside the hull, mm. */
  margin: 0.03,
} as const;

/**
 * The faired hull of the toes as a bicubic spline over a grid of rings and columns. Rings 0 to `across` lie about in the
 * planes of the frame, those up to `net.rings` turn round the toes' ends; on the last one each column meets its mirror column.
 */
export interface ToeShell {
  readonly frame: ToeFrame;
  readonly across: number;
  /** By how much the distance of the rings shrinks from its mean up to ring `across`, and is greater at the start; a share of the mean. */
  readonly taper: number;
  readonly net: ToeNet;
}

type Rings = Pick<ToeShell, 'frame' | 'across' | 'taper'> & { readonly rings: number };

/** Reads the hull and fairs it from outside: the surface is smooth and nowhere inside the hull. `length` and `round` in mm. */
export function toeShell(hull: HullExit, frame: ToeFrame, length: number, round: number): ToeShell {
  const columns = 2 * Math.max(16, Math.ceil(round / SHELL.spacing / 2));
  // The rings close up to the distance of those round the ends, so that the fairing sees no sudden change of step.
  const across = Math.max(6, Math.ceil(length / SHELL.spacing));
  const rings = across + SHELL.turnRings;
  const turnStep = ((Math.PI / 2) * middleDistance(hull, frame)) / SHELL.turnRings;
  const taper = Math.min(SHELL.mostTaper, Math.max(0, 1 - turnStep / (length / across)));
  const count = (rings + 1) * columns;
  const directions = new Float64Array(3 * count);
  const target = new Float64Array(3 * count);
  const lastRing = new Float64Array(columns);
  for (let n = 0; n < count; n++) {
    rayOf({ frame, across, taper, rings }, Math.floor(n / columns), (2 * Math.PI * (n % columns)) / columns, ray);
    const distance = hull.exit(ray[0], ray[1], ray[2], ray[3], ray[4], ray[5]);
    if (n >= count - columns) lastRing[n % columns] = distance;
    for (let k = 0; k < 3; k++) {
      directions[3 * n + k] = ray[3 + k];
      target[3 * n + k] = ray[k] + distance * ray[3 + k];
    }
  }
  const { coreEnd: e } = frame;
  const beyond = beyondFront(across, rings, columns, Math.hypot(e[2] - e[0], e[3] - e[1]) / 2, lastRing);
  const net = { rings, columns, beyond, points: target };
  return { frame, across, taper, net: faired(net, directions, heldPoints(hull.points, { frame, across, taper, net })) };
}

/** Points that the surface has to hold, and where on it they are seen: ring and angle. */
interface Held {
  readonly points: Float64Array;
  /** Ring and angle of each. */
  readonly seen: Float64Array;
}

/** Farther than this inside the hull, mm, a point is held anyway. */
const HELD_WITHIN = 1.5;

function heldPoints(points: Float64Array, shell: ToeShell): Held {
  const near: number[] = [];
  const seen: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    const [at, angle] = placeOf(shell, points[i], points[i + 1], points[i + 2]);
    if (!(at >= SHELL.free)) continue;
    shellPoint(shell, at, angle, point, 0);
    if (Math.hypot(points[i] - point[0], points[i + 1] - point[1], points[i + 2] - point[2]) > HELD_WITHIN) continue;
    near.push(points[i], points[i + 1], points[i + 2]);
    seen.push(at, angle);
  }
  return { points: Float64Array.from(near), seen: Float64Array.from(seen) };
}

/**
 * The net of the smooth surface that holds the given one and the points: its points are raised along their directions, each
 * as little as keeps the blurred surface outside.
 */
function faired(target: ToeNet, directions: Float64Array, held: Held): ToeNet {
  const raise = new Float64Array(target.points.length / 3);
  let blurred = target;
  for (let round = 0; ; round++) {
    const points = target.points.map((t, i) => t + raise[(i / 3) | 0] * directions[i]);
    blurred = { ...target, points };
    for (let b = 0; b < SHELL.blur; b++) blurred = levelled(blurred, averaged(blurred, 1 / 2), directions);
    if (round === SHELL.rounds) return blurred;
    const sunk = heights(averaged(blurred, 2 / 3), target, directions);
    sinkUnder(blurred, held, directions, sunk);
    for (let n = SHELL.free * target.columns; n < raise.length; n++) raise[n] = Math.max(0, raise[n] + sunk[n] + SHELL.margin);
    raise.set(spread(raise, target));
  }
}

/** Points of a ring nearer to each other than this are raised alike, mm: the surface would fold where columns run together. */
const ALIKE_WITHIN = 1.2;

/** Each value the greatest of those on its ring within reach. */
function spread(values: Float64Array, { rings, columns, points: p }: ToeNet): Float64Array {
  const out = values.slice();
  for (let i = 0; i <= rings; i++) {
    for (let j = 0; j < columns; j++) {
      const n = i * columns + j;
      for (let step = 1; step < columns / 4; step++) {
        const m = i * columns + ((j + step) % columns);
        if (Math.hypot(p[3 * n] - p[3 * m], p[3 * n + 1] - p[3 * m + 1], p[3 * n + 2] - p[3 * m + 2]) > ALIKE_WITHIN) break;
        out[m] = Math.max(out[m], values[n]);
        out[n] = Math.max(out[n], values[m]);
      }
    }
  }
  return out;
}

/** Raises `sunk` at the four net points round each held one to how far the surface lies inside it. */
function sinkUnder(net: ToeNet, { points, seen }: Held, directions: Float64Array, sunk: Float64Array): void {
  for (let i = 0; i < points.length; i += 3) {
    const at = seen[(2 * i) / 3];
    const turns = seen[(2 * i) / 3 + 1] / (2 * Math.PI);
    const column = (turns - Math.floor(turns)) * net.columns;
    splinePoint(net, at, column, point);
    const [r, c] = [Math.min(Math.floor(at), net.rings - 1), Math.floor(column)];
    for (let n = 0; n < 4; n++) {
      const k = (r + (n >> 1)) * net.columns + ((c + (n & 1)) % net.columns);
      const [dx, dy, dz] = directions.subarray(3 * k, 3 * k + 3);
      const under = ((points[i] - point[0]) * dx + (points[i + 1] - point[1]) * dy + (points[i + 2] - point[2]) * dz) / (dx * dx + dy * dy + dz * dz);
      sunk[k] = Math.max(sunk[k], under);
    }
  }
}

/** The net with each point moved along its direction until it is as high over the surface as the wanted one. */
function levelled(net: ToeNet, wanted: ToeNet, directions: Float64Array): ToeNet {
  const by = heights(net, wanted, directions);
  return { ...net, points: net.points.map((p, i) => p + by[(i / 3) | 0] * directions[i]) };
}

/** How far each point of a net has to go along its direction to be as high over the net's surface as the wanted point. */
function heights(net: ToeNet, wanted: ToeNet, directions: Float64Array): Float64Array {
  const normals = normalsOf(net, directions);
  const out = new Float64Array(normals.length / 3);
  for (let n = 0; n < out.length; n++) {
    let [height, lean] = [0, 0];
    for (let i = 3 * n; i < 3 * n + 3; i++) {
      height += (wanted.points[i] - net.points[i]) * normals[i];
      lean += directions[i] * normals[i];
    }
    out[n] = height / Math.max(lean, LEAST_LEAN);
  }
  return out;
}

/** Rays that graze the surface more than this do not send points far along it. */
const LEAST_LEAN = 0.35;

/** The ray of ring `at`, whole or between, and of a column's angle. */
function rayOf({ frame, across, rings, taper }: Rings, at: number, angle: number, out: Float64Array): void {
  const turn = at <= across ? 0 : ((at - across) / (rings - across)) * (Math.PI / 2);
  const share = Math.min(1, at / across);
  rayAt(frame, share * (1 + taper - taper * share), turn, angle, out);
}

/** The ring that lies at a part of the frame from 0 to 1. */
export function ringAt({ across, taper }: Pick<ToeShell, 'across' | 'taper'>, part: number): number {
  if (taper < 1e-6) return part * across;
  const b = 1 + taper;
  return (across * (b - Math.sqrt(Math.max(0, b * b - 4 * taper * part)))) / (2 * taper);
}

/** Ring and angle of the ray that sees a point ahead of the start. */
function placeOf(shell: ToeShell, x: number, y: number, z: number): [number, number] {
  const { frame, across, net } = shell;
  const part = partAt(frame, x, y);
  if (part <= 1) return [ringAt(shell, part), columnOf(frame, part, y, z)[0]];
  const { slope } = frame.front;
  const size = Math.sqrt(1 + slope * slope);
  const ahead = (x - frame.front.at - slope * y) / size;
  const [angle, distance] = columnOf(frame, 1, y + (ahead * slope) / size, z);
  return [across + (Math.atan2(ahead, distance) / (Math.PI / 2)) * (net.rings - across), angle];
}

/**
 * Seen from the front the last rings lie round the line on which upper and lower half meet, as rounds about a core: a column
 * that goes on over the line comes down at another column and ring.
 *
 * @param lastRing distances from the core on the last ring
 */
function beyondFront(across: number, rings: number, columns: number, half: number, lastRing: Float64Array): ToeNet['beyond'] {
  const step = Math.PI / 2 / (rings - across);
  const places = new Uint32Array(8 * columns);
  const weights = new Float64Array(8 * columns);
  for (let k = 1; k <= 2; k++) {
    for (let j = 0; j < columns; j++) {
      const angle = (2 * Math.PI * j) / columns;
      const apart = step * lastRing[j];
      const [turned, distance] = columnIn(half, (half - k * apart) * Math.cos(angle), -k * apart * Math.sin(angle));
      const ring = Math.min(Math.max(rings - Math.max(distance, 0) / apart, rings - 3), rings);
      const i = Math.min(Math.floor(ring), rings - 1);
      const column = (turned / (2 * Math.PI)) * columns;
      const c = Math.floor(column);
      for (let n = 0; n < 4; n++) {
        const [di, dj] = [n >> 1, n & 1];
        const at = 4 * ((k - 1) * columns + j) + n;
        places[at] = (i + di) * columns + ((((c + dj) % columns) + columns) % columns);
        weights[at] = (di === 1 ? ring - i : 1 - ring + i) * (dj === 1 ? column - c : 1 - column + c);
      }
    }
  }
  return { places, weights };
}

/** How far the hull lies from the middle of the core's end, above and below on average, mm. */
function middleDistance(hull: HullExit, frame: ToeFrame): number {
  let sum = 0;
  for (const angle of [1, 2, -1, -2]) {
    rayAt(frame, 1, 0, angle, ray);
    sum += hull.exit(ray[0], ray[1], ray[2], ray[3], ray[4], ray[5]) / 4;
  }
  return sum;
}

const [wi, wj, ray, point, corner] = [new Float64Array(4), new Float64Array(4), new Float64Array(6), new Float64Array(3), new Float64Array(3)];

/** The surface at ring `at` and `angle`, written into `out` at `offset`. */
export function shellPoint({ net }: ToeShell, at: number, angle: number, out: Float64Array, offset: number): void {
  const turns = angle / (2 * Math.PI);
  splinePoint(net, at, (turns - Math.floor(turns)) * net.columns, out, offset);
}

function splinePoint(net: ToeNet, at: number, column: number, out: Float64Array, offset = 0): void {
  const u = Math.min(Math.max(at, 0), net.rings);
  const [i, j] = [Math.min(Math.floor(u), net.rings - 1), Math.floor(column)];
  splineWeights(u - i, wi);
  splineWeights(column - j, wj);
  let [x, y, z] = [0, 0, 0];
  for (let a = 0; a < 4; a++) {
    for (let b = 0; b < 4; b++) {
      netPoint(net, i + a - 1, j + b - 1, corner);
      const w = wi[a] * wj[b];
      x += w * corner[0];
      y += w * corner[1];
      z += w * corner[2];
    }
  }
  out[offset] = x;
  out[offset + 1] = y;
  out[offset + 2] = z;
}
