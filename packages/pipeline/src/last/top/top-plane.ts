import type { Point } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { CastError } from '../../errors.js';

/** The plane of a flat top: level across the foot, so Y lies in it. Foot frame, mm. */
export interface TopPlane {
  /** Unit, upward. */
  readonly normal: Point;
  /** normal · p of its points. */
  readonly offset: number;
  /** Unit, in the plane, forward: the axis of the plane's coordinate u; that of v is Y. */
  readonly forward: Point;
}

export const levelPlane = (height: number): TopPlane => ({ normal: [0, 0, 1], offset: height, forward: [1, 0, 0] });

/** The plane as much higher, straight up. */
export const raisedPlane = (plane: TopPlane, mm: number): TopPlane => ({ ...plane, offset: plane.offset + mm * plane.normal[2] });

/** Plane coordinates and height over the plane (u, v, w) → foot frame. */
export function fromPlane({ normal: n, forward: f, offset }: TopPlane, w = 0): Transform {
  const h = offset + w;
  return new Float64Array([f[0], 0, n[0], h * n[0], 0, 1, 0, 0, f[2], 0, n[2], h * n[2], 0, 0, 0, 1]);
}

/** u and v of points given as x, y, z. */
export function onPlane({ forward: f }: TopPlane, positions: Float64Array): Float64Array {
  const out = new Float64Array((2 * positions.length) / 3);
  for (let i = 0; 3 * i < positions.length; i++) {
    out[2 * i] = f[0] * positions[3 * i] + f[2] * positions[3 * i + 2];
    out[2 * i + 1] = positions[3 * i + 1];
  }
  return out;
}

/** Steeper top lines are slips of the pen. */
const STEEPEST_DEG = 40;

/**
 * The plane of a top line: through the rearmost point of the surface at height `backMm` and the foremost one at `frontMm`.
 * `frontX` is the x of the latter.
 *
 * @throws CastError `top-too-low` where the cast does not reach one of the heights, `top-line-too-steep`
 */
export function topLinePlane(mesh: Mesh, { backMm, frontMm }: { readonly backMm: number; readonly frontMm: number }): { readonly plane: TopPlane; readonly frontX: number } {
  const back = extremeX(mesh, backMm, -1);
  const front = extremeX(mesh, frontMm, 1);
  if (back === null || front === null) {
    throw new CastError(
      'top-too-low',
      `The cast has nothing ${back === null ? backMm : frontMm} mm above the rest plane, where the top line shall run.`,
      `Lower last.top.line.${back === null ? 'backMm' : 'frontMm'} in the rules, or cast higher.`,
    );
  }
  const run = front - back;
  const rise = frontMm - backMm;
  const slopeDeg = (Math.atan2(Math.abs(rise), run) * 180) / Math.PI;
  if (slopeDeg > STEEPEST_DEG) {
    throw new CastError(
      'top-line-too-steep',
      `A top line from ${backMm} mm at the heel to ${frontMm} mm at the instep runs at ${slopeDeg.toFixed(0)}° on this cast; ${STEEPEST_DEG}° is the most.`,
      'Bring last.top.line.backMm and last.top.line.frontMm in the rules nearer to each other.',
    );
  }
  const length = Math.hypot(run, rise);
  const normal: Point = [-rise / length, 0, run / length];
  return { plane: { normal, offset: normal[0] * back + normal[2] * backMm, forward: [run / length, 0, rise / length] }, frontX: front };
}

/** The least (sign −1) or greatest (+1) x of the surface at height z; null where it has nothing there. */
function extremeX({ positions: p, triangles }: Mesh, z: number, sign: number): number | null {
  let best = -Infinity;
  for (let h = 0; h < triangles.length; h++) {
    const a = 3 * triangles[h];
    const b = 3 * triangles[h % 3 === 2 ? h - 2 : h + 1];
    const za = p[a + 2] - z;
    const zb = p[b + 2] - z;
    if (za > 0 === zb > 0) continue;
    best = Math.max(best, sign * (p[a] + (za / (za - zb)) * (p[b] - p[a])));
  }
  return best === -Infinity ? null : sign * best;
}
