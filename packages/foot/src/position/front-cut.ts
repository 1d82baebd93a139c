import type { Point } from '../landmarks.js';
import type { StandingCast } from './standing-cast.js';
import { unit } from '@cast-to-last/geometry/numerics/vectors';

export const FRONT_CUT = {
  /** A cut is sought on surface this near to the front, share of foot length, that faces ahead at least this much (cosine). */
  reach: 0.25,
  facing: 0.6,
  /** What lies this near to a plane, mm, and turns from it less than this (cosine of 12°) belongs to the cut. */
  within: 0.5,
  turned: 0.978,
  /** It is first sought this near to the plane, mm, and each round nearer by this factor. */
  begin: 4,
  nearer: 0.7,
  rounds: 14,
  /** Least z of its normal: what faces farther down is the sole of toes that are bent up. */
  down: -0.35,
  /** Nothing of the cast lies farther ahead of a cut than this, mm. */
  ahead: 1.5,
  /** A blunt front goes on round beyond its flat: what still lies this near to the plane, mm, and turns from it less than this (cosine of 40°). */
  roundWithin: 1.5,
  roundTurned: 0.766,
} as const;

export interface FrontCut {
  /** Surface that lies in one plane across the front, mm². Toes give some tens, a cut through them hundreds. */
  readonly area: number;
  readonly middle: Point;
  /** Breadth of the band in which the surface goes on round beyond the flat, mm: about half the radius of its edge. A cut ends in an edge and has little. */
  readonly rounding: number;
}

/** The largest flat across the front of the toes, as a cut through them leaves it. */
export function frontCut({ mesh: { positions: p }, normals, areas, landmarks }: StandingCast): FrontCut {
  const near: number[] = [];
  for (let v = 0; v < areas.length; v++) {
    if (p[3 * v] >= (1 - FRONT_CUT.reach) * landmarks.footLength && normals[3 * v] >= FRONT_CUT.facing) near.push(v);
  }
  let best: Flat = { area: 0, middle: landmarks.toeTip, normal: [1, 0, 0], around: 0 };
  // Started at the foremost of what faces each of a few ways, for a cut may lie askew.
  for (const side of [-0.35, 0, 0.35]) {
    for (const up of [-0.35, 0, 0.35]) {
      const found = flatFrom(near, unit([1, side, up]), p, normals, areas);
      if (found !== null && found.area > best.area && isForemost(found, p)) best = found;
    }
  }
  return { area: best.area, middle: best.middle, rounding: best.area === 0 ? 0 : (areaRound(best, near, p, normals, areas) - best.area) / best.around };
}

/** Surface that lies on a flat or goes on round from it, mm². */
function areaRound({ middle: [x, y, z], normal: [a, b, c] }: Flat, near: readonly number[], p: Float64Array, normals: Float64Array, areas: Float64Array): number {
  let sum = 0;
  for (const v of near) {
    const i = 3 * v;
    if (Math.abs(a * (p[i] - x) + b * (p[i + 1] - y) + c * (p[i + 2] - z)) > FRONT_CUT.roundWithin) continue;
    if (a * normals[i] + b * normals[i + 1] + c * normals[i + 2] >= FRONT_CUT.roundTurned) sum += areas[v];
  }
  return sum;
}

/** Whether a flat does not face the ground and nothing of the cast lies ahead of it. */
const isForemost = ({ middle: [x, y, z], normal: [a, b, c] }: Flat, p: Float64Array): boolean => {
  if (c < FRONT_CUT.down) return false;
  for (let i = 0; i < p.length; i += 3) if (a * (p[i] - x) + b * (p[i + 1] - y) + c * (p[i + 2] - z) > FRONT_CUT.ahead) return false;
  return true;
};

interface Flat extends Omit<FrontCut, 'rounding'> {
  readonly normal: readonly number[];
  /** Twice its breadth and its height, mm. */
  readonly around: number;
}

function flatFrom(near: readonly number[], start: number[], p: Float64Array, normals: Float64Array, areas: Float64Array): Flat | null {
  let n = start;
  let offset = -Infinity;
  for (const v of near) offset = Math.max(offset, n[0] * p[3 * v] + n[1] * p[3 * v + 1] + n[2] * p[3 * v + 2]);
  let found: Flat | null = null;
  for (let round = 0; round < FRONT_CUT.rounds; round++) {
    const within = Math.max(FRONT_CUT.within, FRONT_CUT.begin * FRONT_CUT.nearer ** round);
    const sum = [0, 0, 0, 0, 0, 0, 0];
    const reach = [Infinity, -Infinity, Infinity, -Infinity];
    for (const v of near) {
      const i = 3 * v;
      const away = n[0] * p[i] + n[1] * p[i + 1] + n[2] * p[i + 2] - offset;
      if (Math.abs(away) > within || n[0] * normals[i] + n[1] * normals[i + 1] + n[2] * normals[i + 2] < FRONT_CUT.turned) continue;
      sum[0] += areas[v];
      for (let k = 0; k < 3; k++) {
        sum[1 + k] += areas[v] * p[i + k];
        sum[4 + k] += areas[v] * normals[i + k];
      }
      for (let k = 0; k < 2; k++) {
        reach[2 * k] = Math.min(reach[2 * k], p[i + 1 + k]);
        reach[2 * k + 1] = Math.max(reach[2 * k + 1], p[i + 1 + k]);
      }
    }
    if (sum[0] === 0) return null;
    n = unit([sum[4], sum[5], sum[6]]);
    found = { area: sum[0], middle: [sum[1] / sum[0], sum[2] / sum[0], sum[3] / sum[0]], normal: n, around: 2 * (reach[1] - reach[0] + reach[3] - reach[2]) };
    offset = n[0] * found.middle[0] + n[1] * found.middle[1] + n[2] * found.middle[2];
  }
  return found;
}
