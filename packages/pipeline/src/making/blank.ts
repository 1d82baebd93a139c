import type { Point } from '@cast-to-last/foot/landmarks';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { MillingRules } from '../rules/making-rules.js';

export const BLANK = {
  /** Turns about the long axis that are tried, degrees apart. */
  stepDeg: 0.5,
} as const;

export interface Blank {
  /** What lies along the blank. */
  readonly along: 'length' | 'height';
  /** Degrees that the last is turned about the axis along the blank. */
  readonly turnedDeg: number;
  /** mm: along the blank, then the two sides. */
  readonly size: Point;
  /** The last as it lies, the same way. */
  readonly lastSize: Point;
  /** Foot frame → the blank, its corner at the origin, x along it from its start. */
  readonly transform: Transform;
  /** What the machine holds, along the blank: from its start, and up to its end, mm. Never less than the rules ask. */
  readonly hold: { readonly start: number; readonly end: number };
  /** Least distance from the last to each side of what is not held, mm: start, end, then the sides as in `size`. */
  readonly stock: readonly [number, number, number, number, number, number];
  /** Diameter of the least round blank about the same middle line, mm, stock included. */
  readonly roundDiameter: number;
  /** mm³ */
  readonly volume: number;
}

/** Rows that turn the foot frame so that x lies along the blank: the foot's own axes, or its height first. */
const AXES = { length: [[1, 0, 0], [0, 1, 0], [0, 0, 1]], height: [[0, 0, 1], [0, 1, 0], [-1, 0, 0]] } as const;

/**
 * The smallest blank that holds the last with stock all round, among rotations about the axis along it.
 *
 * @param hull vertices of the last's convex hull, foot frame
 */
export function blankFor(hull: Float64Array, rules: MillingRules): Blank {
  const ways = rules.along === 'least' ? (['length', 'height'] as const) : [rules.along];
  return ways.map((way) => blankAlong(hull, way, rules)).reduce((least, blank) => (blank.volume < least.volume ? blank : least));
}

function blankAlong(hull: Float64Array, way: 'length' | 'height', rules: MillingRules): Blank {
  let best: { readonly box: Float64Array; readonly turn: Transform; readonly deg: number; readonly area: number } | null = null;
  // The smallest angle of those that are as good: no turn where none helps.
  for (let n = 0; n <= 45 / BLANK.stepDeg; n++) {
    for (const deg of n === 0 ? [0] : [n * BLANK.stepDeg, -n * BLANK.stepDeg]) {
      const turn = turnedAbout(AXES[way], (deg * Math.PI) / 180);
      const box = bounds(transformPositions(turn, hull));
      const area = (box[4] - box[1]) * (box[5] - box[2]);
      if (best === null || area < best.area - 1e-9) best = { box, turn, deg, area };
    }
  }
  if (best === null) throw new RangeError('no turn was tried');
  const { box, turn, deg } = best;
  const up = (least: number): number => Math.ceil(least / rules.roundMm - 1e-9) * rules.roundMm;
  const lastSize: Point = [box[3] - box[0], box[4] - box[1], box[5] - box[2]];
  const { stockMm, holdStartMm, holdEndMm } = rules;
  const size: Point = [up(lastSize[0] + 2 * stockMm + holdStartMm + holdEndMm), up(lastSize[1] + 2 * stockMm), up(lastSize[2] + 2 * stockMm)];
  const spare = size[0] - lastSize[0] - 2 * stockMm - holdStartMm - holdEndMm;
  const shift = [holdStartMm + spare / 2 + stockMm, (size[1] - lastSize[1]) / 2, (size[2] - lastSize[2]) / 2];
  const transform = turn.slice();
  for (let k = 0; k < 3; k++) transform[4 * k + 3] = shift[k] - box[k];
  const sideways = shift[1];
  const upward = shift[2];
  return {
    along: way, turnedDeg: deg, size, lastSize, transform,
    hold: { start: holdStartMm + spare / 2, end: holdEndMm + spare / 2 },
    stock: [stockMm, stockMm, sideways, sideways, upward, upward],
    roundDiameter: up(2 * (farthestFromMiddle(transformPositions(transform, hull), size) + stockMm)),
    volume: size[0] * size[1] * size[2],
  };
}

function turnedAbout(rows: readonly (readonly number[])[], angle: number): Transform {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const out = new Float64Array(16);
  for (let k = 0; k < 3; k++) {
    out[k] = rows[0][k];
    out[4 + k] = c * rows[1][k] - s * rows[2][k];
    out[8 + k] = s * rows[1][k] + c * rows[2][k];
  }
  out[15] = 1;
  return out;
}

function farthestFromMiddle(p: Float64Array, [, y, z]: Point): number {
  let most = 0;
  for (let i = 0; i < p.length; i += 3) most = Math.max(most, Math.hypot(p[i + 1] - y / 2, p[i + 2] - z / 2));
  return most;
}
