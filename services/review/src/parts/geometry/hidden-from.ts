import { firstAlong, nearestOnSurface, newNearestPoint } from '@cast-to-last/geometry/distance/bvh';
import type { Calls } from './calls.js';
import { bodyOf } from './kept-bodies.js';
import { normalOf } from './pick.js';

/** How far a point may lie off the body that is shown, mm: that of a mark lies as deep as the mark. */
const REACH = 15;
/** A place counts as seen where what lies before it is no further before than this, mm: facets stand off the surface. */
const BEFORE = 0.8;
/** By how much a place is lifted off its surface, mm, so that ground at a glancing angle does not hide itself. */
const LIFT = 0.5;

const near = newNearestPoint();
const met = newNearestPoint();

/** For each point, 1 where the body hides the place of its surface nearest to it from the viewer. */
export function hiddenFrom({ body: key, from, points }: Parameters<Calls['hiddenFrom']>[0]): Uint8Array | null {
  const body = bodyOf(key);
  if (body === undefined) return null;
  const tree = body.tree();
  return Uint8Array.from({ length: points.length / 3 }, (_, i) => {
    const [x, y, z] = points.subarray(3 * i, 3 * i + 3);
    if (!nearestOnSurface(tree, x, y, z, near, REACH)) return 0;
    const normal = normalOf(body.mesh, near.triangle);
    const way = [0, 1, 2].map((k) => near.point[k] + LIFT * normal[k] - from[k]);
    const far = Math.hypot(way[0], way[1], way[2]);
    const along = way.map((c) => c / far);
    return firstAlong(tree, from[0], from[1], from[2], along, 0, met) && met.distance < far - BEFORE ? 1 : 0;
  });
}
