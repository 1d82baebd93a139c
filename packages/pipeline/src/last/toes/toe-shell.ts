import type { Held } from './fair-net.js';
import { FAIRING, faired, onOutline, overHeld } from './fair-net.js';
import type { Outline } from './fair-outline.js';
import type { HullExit } from './hull-exit.js';
import { OutlineShift } from './outline-shift.js';
import type { ToeFrame } from './toe-frame.js';
import { columnIn, columnOf, partAt, rayAt } from './toe-frame.js';
import type { ToeNet } from './toe-net.js';
import { splinePoint } from './toe-net.js';

export const SHELL = {
  /** Distance of the rings at which the hull is read, and of the columns over the dorsum, mm. */
  spacing: 2.5,
  /** Rings round the toes' ends. */
  turnRings: 10,
  /** Most by which the rings may close up towards them, as a share of their mean distance. */
  mostTaper: 0.7,
  /** How often the end of a ray on the hull that is carried out is sought at most, and the change below which it is found, mm. */
  shiftRounds: 12,
  shiftStill: 0.01,
  /** How often the surface is put on the fair outline again, and over the points that it holds. */
  outlineRounds: 3,
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

/**
 * Reads the hull, carried out to a fair outline, and fairs it from outside: the surface is smooth and holds the points.
 * `length` of the toe part and `round`, the girth of its start, are in mm.
 *
 * @param held x, y, z of the points
 */
export function toeShell(hull: HullExit, outline: Outline, held: Float64Array, frame: ToeFrame, { length, round }: { readonly length: number; readonly round: number }): ToeShell {
  const shift = new OutlineShift(outline, hull.points);
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
    const distance = shiftedExit(hull, shift, ray);
    if (n >= count - columns) lastRing[n % columns] = distance;
    for (let k = 0; k < 3; k++) {
      directions[3 * n + k] = ray[3 + k];
      target[3 * n + k] = ray[k] + distance * ray[3 + k];
    }
  }
  const { coreEnd: e } = frame;
  const beyond = beyondFront(across, rings, columns, Math.hypot(e[2] - e[0], e[3] - e[1]) / 2, lastRing);
  const net: ToeNet = { rings, columns, points: target, beyond };
  let fair = faired(net, directions, heldPoints(held, { frame, across, taper, net }));
  for (let round = 0; round < SHELL.outlineRounds; round++) {
    fair = onOutline(fair, outline, held);
    fair = overHeld(fair, directions, heldPoints(held, { frame, across, taper, net: fair }));
  }
  return { frame, across, taper, net: fair };
}

/** How far along a ray the hull, carried out, ends: the place there is sought that comes from the hull's end. */
function shiftedExit(hull: HullExit, shift: OutlineShift, r: Float64Array): number {
  let distance = hull.exit(r[0], r[1], r[2], r[3], r[4], r[5]);
  for (let round = 0; round < SHELL.shiftRounds; round++) {
    shift.at(r[0] + distance * r[3], r[1] + distance * r[4], moved);
    const before = distance;
    distance = hull.exit(r[0] - moved[0], r[1] - moved[1], r[2], r[3], r[4], r[5]);
    if (Math.abs(distance - before) < SHELL.shiftStill) break;
  }
  return distance;
}

/** Farther than this inside the hull, mm, a point is held anyway. */
const HELD_WITHIN = 3;

function heldPoints(points: Float64Array, shell: ToeShell): Held {
  const near: number[] = [];
  const seen: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    const [at, angle] = placeOf(shell, points[i], points[i + 1], points[i + 2]);
    if (!(at >= FAIRING.free)) continue;
    shellPoint(shell, at, angle, point, 0);
    if (Math.hypot(points[i] - point[0], points[i + 1] - point[1], points[i + 2] - point[2]) > HELD_WITHIN) continue;
    near.push(points[i], points[i + 1], points[i + 2]);
    seen.push(at, angle);
  }
  return { points: Float64Array.from(near), seen: Float64Array.from(seen) };
}

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
        const di = n >> 1;
        const dj = n & 1;
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

const [ray, point, moved] = [6, 3, 2].map((size) => new Float64Array(size));

/** The surface at ring `at` and `angle`, written into `out` at `offset`. */
export function shellPoint({ net }: Pick<ToeShell, 'net'>, at: number, angle: number, out: Float64Array, offset: number): void {
  const turns = angle / (2 * Math.PI);
  splinePoint(net, at, (turns - Math.floor(turns)) * net.columns, out, offset);
}
