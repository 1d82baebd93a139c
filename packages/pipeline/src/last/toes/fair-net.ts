import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Outline } from './fair-outline.js';
import { OutlineShift } from './outline-shift.js';
import type { ToeNet } from './toe-net.js';
import { averaged, normalsOf, splinePoint, withPoints } from './toe-net.js';

export const FAIRING = {
  /** Rounds of blur, and of taking back what the blur sank below the hull. */
  blur: 2,
  rounds: 12,
  /** Rings at the start that are not held outside: there the foot's own surface counts still. */
  free: 1,
  /** How far the faired surface keeps outside the hull, mm. */
  margin: 0.03,
} as const;

/** Points that the surface has to hold, and where on it they are seen: ring and angle. */
export interface Held {
  readonly points: Float64Array;
  /** Ring and angle of each. */
  readonly seen: Float64Array;
}

/**
 * The net of the smooth surface that holds the given one and the points: its points are raised along their directions, each
 * as little as keeps the blurred surface outside.
 */
export function faired(target: ToeNet, directions: Float64Array, held: Held): ToeNet {
  const raise = new Float64Array(target.points.length / 3);
  let blurred = target;
  for (let round = 0; ; round++) {
    blurred = moved(target, raise, directions);
    for (let b = 0; b < FAIRING.blur; b++) blurred = levelled(blurred, averaged(blurred, 1 / 2), directions);
    if (round === FAIRING.rounds) return blurred;
    const sunk = heights(averaged(blurred, 2 / 3), target, directions);
    sinkUnder(blurred, held, directions, sunk);
    for (let n = FAIRING.free * target.columns; n < raise.length; n++) raise[n] = Math.max(0, raise[n] + sunk[n] + FAIRING.margin);
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
        if (length3(p[3 * n] - p[3 * m], p[3 * n + 1] - p[3 * m + 1], p[3 * n + 2] - p[3 * m + 2]) > ALIKE_WITHIN) break;
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
    const r = Math.min(Math.floor(at), net.rings - 1);
    const c = Math.floor(column);
    for (let n = 0; n < 4; n++) {
      const k = (r + (n >> 1)) * net.columns + ((c + (n & 1)) % net.columns);
      const dx = directions[3 * k];
      const dy = directions[3 * k + 1];
      const dz = directions[3 * k + 2];
      const under = ((points[i] - point[0]) * dx + (points[i + 1] - point[1]) * dy + (points[i + 2] - point[2]) * dz) / (dx * dx + dy * dy + dz * dz);
      if (under > sunk[k]) sunk[k] = under;
    }
  }
}

/** The net with each point moved along its direction until it is as high over the surface as the wanted one. */
const levelled = (net: ToeNet, wanted: ToeNet, directions: Float64Array): ToeNet => moved(net, heights(net, wanted, directions), directions);

/** The net with each point moved along its direction. */
function moved(net: ToeNet, by: Float64Array, directions: Float64Array): ToeNet {
  const points = net.points.slice();
  for (let n = 0; n < by.length; n++) {
    for (let i = 3 * n; i < 3 * n + 3; i++) points[i] += by[n] * directions[i];
  }
  return withPoints(net, points);
}

/** How far each point of a net has to go along its direction to be as high over the net's surface as the wanted point. */
function heights(net: ToeNet, wanted: ToeNet, directions: Float64Array): Float64Array {
  const normals = normalsOf(net, directions);
  const out = new Float64Array(normals.length / 3);
  for (let n = 0; n < out.length; n++) {
    let height = 0;
    let lean = 0;
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

/** The net raised smoothly where held points lie outside its surface. */
export function overHeld(net: ToeNet, directions: Float64Array, held: Held): ToeNet {
  const sunk = new Float64Array(net.points.length / 3).fill(-Infinity);
  sinkUnder(net, held, directions, sunk);
  return moved(net, widened(sunk.map((s) => (s > -FAIRING.margin ? s + 2 * FAIRING.margin : 0)), net), directions);
}

/** Each value the mean of the greatest of its neighbourhoods, so that it nowhere becomes less. */
function widened(values: Float64Array, { rings, columns }: ToeNet): Float64Array {
  let from = values;
  for (const [di, dj, mean] of [[1, 0, false], [0, 1, false], [1, 0, true], [0, 1, true]] as const) {
    const to = new Float64Array(from.length);
    for (let n = 0; n < to.length; n++) {
      const i = Math.floor(n / columns);
      const j = n % columns;
      const a = from[Math.max(i - di, 0) * columns + ((j - dj + columns) % columns)];
      const b = from[Math.min(i + di, rings) * columns + ((j + dj) % columns)];
      to[n] = mean ? (a + from[n] + b) / 3 : Math.max(a, from[n], b);
    }
    from = to;
  }
  return from;
}

/** The net with the surface's outline, which the fairing has left by some tenths of a millimetre, on the fair one again. */
export function onOutline(net: ToeNet, outline: Outline, held: Float64Array): ToeNet {
  const shift = new OutlineShift(outline, surfacePoints(net), held);
  const points = net.points.slice();
  for (let i = 0; i < points.length; i += 3) {
    shift.at(points[i], points[i + 1], shifted);
    points[i] += shifted[0];
    points[i + 1] += shifted[1];
  }
  return withPoints(net, points);
}

/** x, y, z of the surface at every ring and column and half-way between. */
function surfacePoints(net: ToeNet): Float64Array {
  const out = new Float64Array(4 * net.points.length);
  for (let n = 0; n < out.length / 3; n++) splinePoint(net, Math.floor(n / 2 / net.columns) / 2, (n % (2 * net.columns)) / 2, out, 3 * n);
  return out;
}

const shifted = new Float64Array(2);
const point = new Float64Array(3);
