import type { SplinePatch } from '@cast-to-last/geometry/splines/spline-patch';
import { fitSplinePatch, newPatchFoot, normalOnPatch, projectToPatch } from '@cast-to-last/geometry/splines/spline-patch';
import { FAIR } from './fair-surface.js';

export const DRAWN = {
  /** How many times the flat is tried drawn together. */
  times: [1, 1.25, 1.5, 2],
  /** Ground within this distance of the hole is carried over at the trials, and then compared with what is there, mm. */
  compared: 6,
  /** Bending is read from normals this far on each way, mm. */
  step: 1.5,
} as const;

/** A piece of surface laid flat, with a hole that a fair surface shall be carried over. */
export interface Holed {
  /** u, v of each place, mm. */
  readonly flat: Float64Array;
  /** x, y, z of each place, mm. */
  readonly points: Float64Array;
  /** mm² that each place stands for; 0 in the hole. */
  readonly weights: Float64Array;
  /** One byte a place: 1 within `DRAWN.compared` of the hole. */
  readonly beside: Uint8Array;
  /** Half the side of the square that is fitted, mm. */
  readonly half: number;
}

/**
 * Flat coordinates in which a fair surface carries the ground on as it runs. Along the edge of a sole, a tendon or the
 * shin a foot goes on unchanged while it bends strongly across; a surface fair alike in all directions rounds such a form
 * off. So the flat is drawn together along the direction in which the ground round the hole bends least: the fit then
 * asks for more steadiness along it than across. How far is tried: the ground beside the hole is left out as well, and
 * that drawing stands from which it is met best.
 *
 * @returns u, v of each place, in mm across and a share of them along
 */
export function drawnFlat(ground: Holed): Float64Array {
  const away = ground.weights.map((w, i) => (ground.beside[i] === 1 ? 0 : w));
  const turn = bendsMost(ground, fairOver(ground, ground.flat, ground.weights));
  let best = ground.flat;
  let least = Infinity;
  for (const times of DRAWN.times) {
    const flat = drawn(ground.flat, turn, times);
    const miss = missBeside(ground, flat, fairOver(ground, flat, away));
    if (miss >= least) continue;
    least = miss;
    best = flat;
  }
  return best;
}

const fairOver = ({ points, half }: Holed, flat: Float64Array, weights: Float64Array): SplinePatch => fitSplinePatch(flat, points, weights, { half, ...FAIR });

/** The direction on the flat, as an angle from u, across which the ground bends most. */
function bendsMost({ flat, weights }: Holed, fair: SplinePatch): number {
  const ahead = newPatchFoot();
  const behind = newPatchFoot();
  /** Change of the normal along (du, dv), into `change`. */
  const bend = (i: number, du: number, dv: number, change: Float64Array): void => {
    normalOnPatch(fair, flat[2 * i] + du, flat[2 * i + 1] + dv, ahead);
    normalOnPatch(fair, flat[2 * i] - du, flat[2 * i + 1] - dv, behind);
    change[0] = ahead.nx - behind.nx;
    change[1] = ahead.ny - behind.ny;
    change[2] = ahead.nz - behind.nz;
  };
  const byU = new Float64Array(3);
  const byV = new Float64Array(3);
  let uu = 0;
  let uv = 0;
  let vv = 0;
  for (let i = 0; i < weights.length; i++) {
    if (!(weights[i] > 0)) continue;
    bend(i, DRAWN.step, 0, byU);
    bend(i, 0, DRAWN.step, byV);
    uu += weights[i] * (byU[0] * byU[0] + byU[1] * byU[1] + byU[2] * byU[2]);
    uv += weights[i] * (byU[0] * byV[0] + byU[1] * byV[1] + byU[2] * byV[2]);
    vv += weights[i] * (byV[0] * byV[0] + byV[1] * byV[1] + byV[2] * byV[2]);
  }
  return Math.atan2(2 * uv, uu - vv) / 2;
}

/** The flat turned so that u runs along `turn`, and drawn together along v. */
function drawn(flat: Float64Array, turn: number, times: number): Float64Array {
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const out = new Float64Array(flat.length);
  for (let i = 0; i < flat.length; i += 2) {
    out[i] = c * flat[i] + s * flat[i + 1];
    out[i + 1] = (c * flat[i + 1] - s * flat[i]) / times;
  }
  return out;
}

/** Sum of the squares by which the ground beside the hole stands off the patch, by area. */
function missBeside({ points, weights, beside }: Holed, flat: Float64Array, patch: SplinePatch): number {
  const foot = newPatchFoot();
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    if (beside[i] === 0 || !(weights[i] > 0)) continue;
    foot.u = flat[2 * i];
    foot.v = flat[2 * i + 1];
    projectToPatch(patch, points[3 * i], points[3 * i + 1], points[3 * i + 2], foot, 2);
    sum += weights[i] * foot.over * foot.over;
  }
  return sum;
}
