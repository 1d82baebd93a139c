import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { clampedSpline } from '@cast-to-last/geometry/splines/clamped-spline';

/**
 * How a last grows: along the foot by one factor from the heel's rearmost point, across and upward by a factor that runs
 * smoothly from station to station. The rest plane stays.
 */
export interface GradeMap {
  readonly along: number;
  /** At heel, instep, waist and ball. */
  readonly across: readonly [number, number, number, number];
}

/** x, y, z triples moved by the map. `stations` are those of the body before. */
export function gradePoints(points: ArrayLike<number>, { along, across }: GradeMap, stations: Landmarks): Float64Array {
  const factor = factorAlong(across, stations);
  const start = stations.pternion[0];
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const b = factor(points[i]);
    out[i] = start + along * (points[i] - start);
    out[i + 1] = b * points[i + 1];
    out[i + 2] = b * points[i + 2];
  }
  return out;
}

/** The landmarks moved along with the body. */
export function gradeLandmarks(landmarks: Landmarks, map: GradeMap): Landmarks {
  const moved = <P extends Point | null>(p: P): P => (p === null ? p : (Array.from(gradePoints(p, map, landmarks)) as unknown as P));
  const { footLength, pternion, toeTip, heelCentre, ballCentre, medialBall, lateralBall, instep, waist, crook, heelCorner } = landmarks;
  return {
    footLength: map.along * footLength,
    pternion: moved(pternion), toeTip: moved(toeTip), heelCentre: moved(heelCentre), ballCentre: moved(ballCentre), medialBall: moved(medialBall),
    lateralBall: moved(lateralBall), instep: moved(instep), waist: moved(waist), crook: moved(crook), heelCorner: moved(heelCorner),
  };
}

function factorAlong(across: GradeMap['across'], { heelCentre, instep, waist, ballCentre }: Landmarks): (x: number) => number {
  const knots = [heelCentre, instep, waist, ballCentre].flatMap((p, i) => (p === null ? [] : [[p[0], across[i]]]));
  return clampedSpline(knots.map(([x]) => x), knots.map(([, b]) => b));
}
