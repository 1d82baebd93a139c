import type { LastRules } from '@cast-to-last/pipeline/rules/last-rules';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import { shapeToes } from '@cast-to-last/pipeline/last/shape-toes';
import { castBody } from '@cast-to-last/pipeline/stages/build-last';
import { newNearestPoint, nearestOnSurface, surfaceTree } from '@cast-to-last/geometry/distance/bvh';

/**
 * The farthest, mm, that the surface behind the line through the ball points lies from the cast's, after the toes were shaped
 * by these rules; null where they ask for nothing.
 */
export async function behindBallLine({ measured, aligned }: CheckOutcome, rules: Pick<LastRules, 'toeAllowanceMm' | 'toeBox'>): Promise<number | null> {
  const cast = castBody(measured, aligned);
  const { body } = shapeToes(cast, rules);
  if (body === cast) return null;
  const { medialBall: m, lateralBall: l } = cast.landmarks;
  const slope = (l[0] - m[0]) / (l[1] - m[1]);
  const tree = surfaceTree(cast.mesh);
  const nearest = newNearestPoint();
  let most = 0;
  const p = body.mesh.positions;
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] > m[0] + slope * (p[i + 1] - m[1])) continue;
    if (nearestOnSurface(tree, p[i], p[i + 1], p[i + 2], nearest)) most = Math.max(most, nearest.distance);
  }
  return most;
}
