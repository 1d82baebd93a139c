import type { Wrapped } from '@cast-to-last/foot/girths';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { section } from '@cast-to-last/geometry/sections/section';
import type { SmoothCurve } from './smooth-curve.js';
import { blurred, curveAt } from './smooth-curve.js';
import { smoothSign, smoothStep } from './smooth-step.js';
import type { SoleHeight } from './sole-height.js';
import { mapSole, soleHeightAt } from './sole-height.js';

export const FLANKS = {
  /** The change begins this far above the sole's map, mm, so that nothing of the sole's unevenness reaches into it ... */
  lift: 1,
  /** ... and grows over this height. */
  rise: 14,
  /** Share of half the foot's breadth, from the ridge outward, over which it grows to its full size. */
  ridge: 0.85,
  /** Distance over which it fades ahead of the ball and behind the instep, as shares of foot length. */
  ahead: 0.13,
  behind: 0.22,
  /** Where it begins behind, as a share of foot length, and over what share it grows: the heel stays. */
  heel: 0.14,
  heelGrows: 0.16,
  /** From how far above the instep it fades up the leg, and over what height, mm. */
  above: 5,
  aboveFades: 40,
  /** Stations nearer to each other than this share the way between them, mm. */
  leastGap: 20,
  /** Distance of the sections that the ridge is read from, mm. */
  sections: 5,
} as const;

/** The plane of a tape: normal · p = offset, the normal pointing to the toes. */
export interface TapePlane {
  readonly normal: Point;
  readonly offset: number;
}

/** How the three stations share in the change at a point: out along Y by the sum of share × amplitude. */
export type Shares = (x: number, y: number, z: number, out: Float64Array) => void;

/**
 * A field that widens or narrows the foot across, on both flanks at once. It moves points along Y alone, so that the side
 * view stays as it is; it is 0 on the sole, on the ridge of the dorsum, at the heel and at the toes, and twice smooth. Each
 * station's share is 1 on the flanks at its own tape and 0 at its neighbours'.
 *
 * @param surface as a tape feels it
 * @param planes of the tapes round ball, waist and instep
 */
export function flankField(surface: Wrapped, planes: readonly [TapePlane, TapePlane, TapePlane], landmarks: Landmarks, instep: Point): Shares {
  const { footLength } = landmarks;
  const sole = mapSole(surface.mesh, footLength);
  const { ridge, reach } = ridgeOf(surface, instep[0], footLength);
  const [toBall, toWaistLine, toBack] = planes.map(({ normal, offset }) => (x: number, y: number, z: number) => normal[0] * x + normal[1] * y + normal[2] * z - offset);
  return (x, y, z, out) => {
    out[0] = out[1] = out[2] = 0;
    const heel = smoothStep((x - FLANKS.heel * footLength) / (FLANKS.heelGrows * footLength));
    const up = 1 - smoothStep((z - instep[2] - FLANKS.above) / FLANKS.aboveFades);
    if (heel * up === 0) return;
    const ball = toBall(x, y, z);
    const waist = toWaistLine(x, y, z);
    const back = toBack(x, y, z);
    const ends = heel * up * (1 - smoothStep(ball / (FLANKS.ahead * footLength))) * (1 - smoothStep(-back / (FLANKS.behind * footLength)));
    if (ends === 0) return;
    const rest = ends * soleHeightOver(sole, x, y, z) * smoothSign((y - curveAt(ridge, x)) / curveAt(reach, x));
    const fromBall = smoothStep(-ball / Math.max(FLANKS.leastGap, waist - ball));
    const fromWaist = smoothStep(-waist / Math.max(FLANKS.leastGap, back - waist));
    out[0] = rest * (1 - fromBall);
    out[1] = rest * fromBall * (1 - fromWaist);
    out[2] = rest * fromBall * fromWaist;
  };
}

/** 0 on the sole and below, 1 well above it. */
const soleHeightOver = (sole: SoleHeight, x: number, y: number, z: number): number => smoothStep((z - soleHeightAt(sole, x, y) - FLANKS.lift) / FLANKS.rise);

/** The ridge of the dorsum seen from above, from the instep to the toes, and how far from it the change is full; smooth along x. */
function ridgeOf({ mesh, twin }: Wrapped, from: number, footLength: number): { ridge: SmoothCurve; reach: SmoothCurve } {
  const step = FLANKS.sections;
  const count = Math.max(2, Math.ceil((0.85 * footLength - from) / step));
  const middles = new Float64Array(count);
  const reaches = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let low = Infinity;
    let high = -Infinity;
    let top = -Infinity;
    let ridge = 0;
    for (const { points } of section(mesh, twin, [1, 0, 0], from + i * step)) {
      for (let k = 0; k < points.length; k += 3) {
        low = Math.min(low, points[k + 1]);
        high = Math.max(high, points[k + 1]);
        if (points[k + 2] > top) {
          top = points[k + 2];
          ridge = points[k + 1];
        }
      }
    }
    const found = high > low;
    middles[i] = found ? ridge : middles[Math.max(i - 1, 0)];
    reaches[i] = found ? (FLANKS.ridge * (high - low)) / 2 : (reaches[Math.max(i - 1, 0)] || 20);
  }
  return { ridge: { from, step, values: blurred(middles, 8) }, reach: { from, step, values: blurred(reaches, 8) } };
}
