import type { FoundSphere } from '@cast-to-last/geometry/spheres/find-spheres';
import { fitSphereTrimmed, sphereDistances } from '@cast-to-last/geometry/spheres/fit-sphere';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { coverage, sphereSurface } from '@cast-to-last/geometry/spheres/sphere-points';
import { sphereCovariance } from '@cast-to-last/geometry/spheres/sphere-uncertainty';
import type { Point } from '@cast-to-last/foot/landmarks';
import type { Gauge } from './scanner-check.js';

/**
 * One ball of a gauge as the scanner has it; mm, uncertainties as half-widths of 95 % intervals. Form error: the range of
 * the signed distances of its points from the free-radius least-squares sphere; size error: fitted less calibrated diameter
 * (both definitions from memory).
 */
export interface MeasuredBall {
  /** In the scan's own coordinates, mm. */
  readonly centre: Point;
  readonly diameterMm: number;
  /** Of the fit alone. */
  readonly fitUncertaintyMm: number;
  /** Of the fit and the calibration. */
  readonly diameterUncertaintyMm: number;
  readonly sizeErrorMm: number;
  /** All points of the ball but the 3 in 1000 farthest off, which VDI/VDE 2634-2 lets leave out (from memory). */
  readonly formErrorMm: number;
  /** Width of the narrowest shell about the sphere's centre that holds 95 % of the points. */
  readonly form95Mm: number;
  /** Standard deviation of the points that the fit rests on. */
  readonly noiseMm: number;
  /** Points that the fit rests on. */
  readonly points: number;
  /** Share of the ball's points that lie off it by more than 4.5 robust standard deviations, and no further than its gate. */
  readonly strayShare: number;
  /** Share of the ball's surface on which points were measured, 0 to 1. */
  readonly coverage: number;
  /** Covariance of the centre, 3 × 3 row-major, mm². */
  readonly centreCovariance: readonly number[];
}

export const MEASURE_BALL = {
  /** Points further off than these robust standard deviations, or this share of the radius where that is more, are not of the ball. */
  gateSds: 6,
  gateShare: 0.02,
  /** Share of the points that the form error leaves out. */
  leftOut: 0.003,
  /** What a half-width of a 95 % interval is of a standard deviation. */
  normal95: 1.96,
} as const;

/** Measures one found ball; null where its points do not fix a sphere. */
export function measureBall(scene: Mesh, found: FoundSphere, gauge: Pick<Gauge, 'diameterMm' | 'uncertaintyMm'>): MeasuredBall | null {
  const { mesh, inner } = sphereSurface(scene, found);
  const points = mesh.positions.filter((_, i) => inner[(i / 3) | 0] === 1);
  const fit = fitSphereTrimmed(points, found);
  if (fit === null) return null;
  const gate = Math.max(MEASURE_BALL.gateSds * fit.robustSd, MEASURE_BALL.gateShare * fit.radius);
  const distances = sphereDistances(points, fit).filter((d) => Math.abs(d) <= gate).sort();
  const used = fit.used.reduce((sum, u) => sum + u, 0);
  const covariance = sphereCovariance(points.filter((_, i) => fit.used[(i / 3) | 0] === 1), fit);
  const diameterMm = 2 * fit.radius;
  const fitUncertaintyMm = 2 * MEASURE_BALL.normal95 * Math.sqrt(covariance[15]);
  return {
    centre: [fit.centre[0], fit.centre[1], fit.centre[2]],
    diameterMm,
    fitUncertaintyMm,
    diameterUncertaintyMm: Math.hypot(fitUncertaintyMm, gauge.uncertaintyMm),
    sizeErrorMm: diameterMm - gauge.diameterMm,
    formErrorMm: rangeOfNearest(distances, 1 - MEASURE_BALL.leftOut),
    form95Mm: narrowest(distances, 0.95),
    noiseMm: fit.sd,
    points: used,
    strayShare: distances.length === 0 ? 0 : Math.max(0, distances.length - used) / distances.length,
    coverage: coverage(mesh, measuredVertices(inner, fit.used), fit.centre),
    centreCovariance: [0, 1, 2].flatMap((r) => [0, 1, 2].map((c) => covariance[4 * r + c])),
  };
}

/** One byte a vertex: 1 where the fit rests on it. */
function measuredVertices(inner: Uint8Array, used: Uint8Array): Uint8Array {
  let next = 0;
  return inner.map((v) => (v === 1 ? used[next++] : 0));
}

/** Range of the share of the values that are nearest to 0; `sorted` ascending. */
function rangeOfNearest(sorted: Float64Array, share: number): number {
  const drop = Math.floor((1 - share) * sorted.length);
  let low = 0;
  let high = sorted.length - 1;
  for (let n = 0; n < drop; n++) if (-sorted[low] > sorted[high]) low++; else high--;
  return high > low ? sorted[high] - sorted[low] : 0;
}

/** Width of the narrowest interval that holds this share of the values; `sorted` ascending. */
function narrowest(sorted: Float64Array, share: number): number {
  const held = Math.ceil(share * sorted.length);
  let least = Infinity;
  for (let i = 0; held > 0 && i + held <= sorted.length; i++) least = Math.min(least, sorted[i + held - 1] - sorted[i]);
  return least === Infinity ? 0 : least;
}
