import type { Random } from '../random.js';
import type { Solid } from './solids.js';
import { ball, block, egg, frustum, hollowed, ring, table } from './solids.js';

/** What a ball scan shall be; everything left out is drawn from the seed. Lengths in mm. */
export interface BallScanOptions {
  /** How many gauge balls, 0 to 2. */
  readonly balls?: 0 | 1 | 2;
  readonly diameter?: number;
  readonly distance?: number;
  /** Mean edge of the triangles on the balls. */
  readonly edge?: number;
  /** Standard deviation of the noise for a surface seen squarely. */
  readonly noise?: number;
  /** How many ways the scanner looked, and from how far round (1: all round). */
  readonly views?: number;
  readonly round?: number;
  /** Things that lie about, and whether balls stand on something. */
  readonly clutter?: number;
  readonly stand?: StandKind;
  /** False: no scale error, no offset, no views that do not fit together. */
  readonly wrong?: boolean;
  readonly scaleError?: number;
  readonly offset?: number;
  readonly misfit?: number;
  readonly unit?: 'mm' | 'm' | 'cm' | 'in';
  readonly posed?: boolean;
  readonly damage?: boolean;
}

export const STANDS = ['table', 'post', 'cone', 'socket', 'ring', 'bar', 'air'] as const;
export type StandKind = (typeof STANDS)[number];

export interface Scene {
  readonly diameter: number;
  /** Centres of the gauge balls. */
  readonly centres: readonly (readonly number[])[];
  /** The balls first. */
  readonly solids: readonly Solid[];
  readonly stand: StandKind;
  readonly clutter: readonly string[];
  /** Width over which bodies that touch are rounded into each other by the scanner. */
  readonly fillet: number;
}

/** Balls of one diameter on some stand, and other things round them. Table top at z = 0, middle of the scene at the origin. */
export function drawScene(random: Random, options: BallScanOptions): Scene {
  const diameter = options.diameter ?? random.fork('diameter').pick([15, 20, 25, 25.4, 30, 38.1, 40, 50, 60]) + random.fork('diameter').between(-0.02, 0.02);
  const r = diameter / 2;
  const number = options.balls ?? random.fork('balls').pick([1, 1, 2, 2, 2] as const);
  const place = random.fork('place');
  const distance = options.distance ?? place.between(1.6 * diameter + 15, Math.min(400, 1.6 * diameter + 220));
  const stand = options.stand ?? place.pick(number === 2 ? STANDS : STANDS.filter((s) => s !== 'bar'));
  const height = stand === 'table' ? 0 : place.between(0.4, 2.2) * diameter;
  const turn = place.between(0, Math.PI);
  const tilt = stand === 'table' ? 0 : place.between(-0.3, 0.3) * Math.min(1, (2 * height) / distance);
  const side = (sign: number): number[] => [sign * 0.5 * distance * Math.cos(tilt) * Math.cos(turn), sign * 0.5 * distance * Math.cos(tilt) * Math.sin(turn), r + height + sign * 0.5 * distance * Math.sin(tilt)];
  const centres = number === 0 ? [] : number === 1 ? [[0, 0, r + height]] : [side(-1), side(1)];
  const solids: Solid[] = centres.map((c) => ball(c, r));
  if (stand === 'bar' && centres.length === 2) {
    const thick = place.between(0.15, 0.45) * r;
    solids.push(frustum(centres[0], centres[1], thick, thick));
    solids.push(block([0, 0, (r + height) / 2], [3 * thick, 3 * thick, r + height], turn));
  } else {
    for (const c of centres) solids.push(...standUnder(stand, c, r, place));
  }
  const withTable = stand === 'table' || (stand !== 'air' && random.fork('table').chance(0.8));
  if (withTable) solids.push(table(2 * diameter + distance, 2 * diameter + 0.7 * distance));
  const { things, names } = clutter(random.fork('clutter'), options.clutter ?? random.fork('clutter').whole(0, 6), centres, r, distance);
  return { diameter, centres, solids: [...solids, ...things], stand, clutter: names, fillet: random.fork('fillet').between(0.2, 1.2) };
}

function standUnder(stand: StandKind, [x, y, z]: readonly number[], r: number, random: Random): Solid[] {
  const foot = [x, y, 0];
  switch (stand) {
    case 'post': {
      // Up to the thickness of the ball itself.
      const thick = random.pick([random.between(0.2, 0.6), random.between(0.9, 1)]) * r;
      return [frustum(foot, [x, y, z - 0.8 * r], thick, thick)];
    }
    case 'cone':
      return [frustum(foot, [x, y, z - 0.9 * r], random.between(0.7, 1.2) * r, random.between(0.3, 0.5) * r)];
    case 'socket': {
      const rim = random.between(0.3, 0.75) * r;
      return [hollowed(frustum(foot, [x, y, z - rim], 0.95 * r, 0.95 * r), [x, y, z], r + random.between(0.05, 0.6))];
    }
    case 'ring': {
      const tube = random.between(0.1, 0.25) * r;
      const wide = random.between(0.5, 0.85) * r;
      return [ring([x, y, z - Math.sqrt((r + tube) ** 2 - wide * wide)], wide, tube), frustum(foot, [x, y, z - 1.35 * r], 0.5 * r, 0.5 * r)];
    }
    default:
      return [];
  }
}

/** Things of about the balls' size, some of which look like balls in part, none nearer to a ball than a gap. */
function clutter(random: Random, count: number, centres: readonly (readonly number[])[], r: number, distance: number): { things: Solid[]; names: string[] } {
  const things: Solid[] = [];
  const names: string[] = [];
  for (let i = 0; i < count; i++) {
    const size = r * random.between(0.7, 1.5);
    let at: number[] = [];
    for (let tries = 0; tries < 50; tries++) {
      at = [random.between(-0.9, 0.9) * (distance + r), random.between(-0.7, 0.7) * (distance + r), 0];
      const gap = random.between(0.05, 1) * r;
      if (centres.every((c) => Math.hypot(c[0] - at[0], c[1] - at[1]) > r + 1.6 * size + gap)) break;
      at = [];
    }
    if (at.length === 0) continue;
    const kind = random.pick(['block', 'post', 'egg', 'ring', 'other ball', 'bowl', 'lying post', 'cone'] as const);
    names.push(kind);
    const [x, y] = at;
    switch (kind) {
      case 'block': things.push(block([x, y, size / 2], [size, size * random.between(0.4, 1.5), size], random.between(0, 3))); break;
      case 'post': things.push(frustum([x, y, 0], [x, y, 2 * size], random.pick([r, size]), random.pick([r, size]))); break;
      case 'lying post': things.push(frustum([x - size, y, r], [x + size, y, r], r, r)); break;
      case 'cone': things.push(frustum([x, y, 0], [x, y, 2 * size], r, 0.05 * r)); break;
      case 'egg': things.push(egg([x, y, r], [r * random.between(1.1, 1.5), r * random.between(0.8, 1), r * random.between(0.8, 1.1)])); break;
      case 'ring': things.push(ring([x, y, 0.5 * r], 0.9 * r, random.between(0.3, 0.8) * r)); break;
      case 'other ball': { const other = r * random.pick([random.between(0.4, 0.8), random.between(1.25, 1.5)]); things.push(ball([x, y, other], other)); break; }
      case 'bowl': things.push(hollowed(block([x, y, 0.6 * r], [2.4 * r, 2.4 * r, 1.2 * r], 0), [x, y, 1.2 * r], r)); break;
    }
  }
  return { things, names };
}
