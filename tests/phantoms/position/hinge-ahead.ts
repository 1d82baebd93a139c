import type { Point } from '@cast-to-last/foot/landmarks';
import { transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';

/**
 * How far a hinge lies ahead of the inside ball point along the foot, at that point's breadth, mm.
 *
 * @param hinge two points of it, where the foot was drawn
 * @param toFoot from there to the foot frame
 */
export function hingeAhead(hinge: readonly [Point, Point], toFoot: Transform, medialBall: Point): number {
  const [x0, y0, , x1, y1] = transformPositions(toFoot, Float64Array.from(hinge.flat()));
  return x0 + ((medialBall[1] - y0) / (y1 - y0)) * (x1 - x0) - medialBall[0];
}
