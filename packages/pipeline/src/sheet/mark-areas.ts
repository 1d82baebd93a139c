import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { planeBounds } from '@cast-to-last/geometry/numerics/plane-bounds';
import { silhouette } from '@cast-to-last/geometry/views/contour-lines';
import { project, visiblePoints } from '@cast-to-last/geometry/views/view';
import type { View } from '@cast-to-last/geometry/views/view';
import type { SheetLine, SheetMapView } from '@cast-to-last/sheet/measurement/content';
import type { ReportedMark } from '../report/report.js';
import { smoothed } from './body-views.js';

/** A dent lies so far behind the surface that is seen, mm. */
const SLACK = 6;
/** A mark stands in a view that shows this share of it. */
const LEAST_SEEN = 0.4;
/** Each point of a mark stands for ground of this radius, and the grid on which the ground is joined, mm. */
const RADIUS = 1.8;
const CELL = 0.7;

/** The marks that a view shows, numbered from 1 in the report's order. */
export function marksSeen(view: View, marks: readonly ReportedMark[], pointsOf: ReadonlyMap<string, Float64Array>): SheetMapView['marks'] {
  return marks.flatMap((mark, i) => {
    const points = pointsOf.get(mark.id) ?? Float64Array.from(mark.centre);
    const seen = visiblePoints(view, points, SLACK);
    const count = seen.reduce((sum, s) => sum + s, 0);
    if (count < LEAST_SEEN * seen.length) return [];
    const paper = project(view.axes, points).filter((_, k) => k % 3 !== 2);
    const middle = project(view.axes, Float64Array.from(mark.centre));
    const at = nearestSeen(paper, seen, middle[0], middle[1]);
    return [{ number: i + 1, decision: mark.decision, at, areas: pointsOf.has(mark.id) ? ground(paper) : [] }];
  });
}

function nearestSeen(paper: Float64Array, seen: Uint8Array, x: number, y: number): readonly [number, number] {
  let best = 0;
  let nearest = Infinity;
  for (let i = 0; i < seen.length; i++) {
    const d = (paper[2 * i] - x) ** 2 + (paper[2 * i + 1] - y) ** 2;
    if (seen[i] === 1 && d < nearest) {
      best = i;
      nearest = d;
    }
  }
  return [paper[2 * best], paper[2 * best + 1]];
}

/** The outline of discs round points of the paper. */
function ground(paper: Float64Array): SheetLine[] {
  const { minX, minY, maxX, maxY } = planeBounds(paper);
  const around = RADIUS + 2 * CELL;
  const origin = [minX - around, minY - around] as const;
  const columns = Math.ceil((maxX - minX + 2 * around) / CELL) + 1;
  const rows = Math.ceil((maxY - minY + 2 * around) / CELL) + 1;
  const depth = new Float32Array(columns * rows).fill(NaN);
  const reach = Math.ceil(RADIUS / CELL);
  for (let i = 0; i < paper.length; i += 2) {
    const c0 = Math.round((paper[i] - origin[0]) / CELL);
    const r0 = Math.round((paper[i + 1] - origin[1]) / CELL);
    for (let r = r0 - reach; r <= r0 + reach; r++) {
      for (let c = c0 - reach; c <= c0 + reach; c++) {
        if (length2(origin[0] + c * CELL - paper[i], origin[1] + r * CELL - paper[i + 1]) <= RADIUS) depth[r * columns + c] = 0;
      }
    }
  }
  return smoothed(silhouette({ axes: { right: [1, 0, 0], up: [0, 1, 0] }, columns, rows, cell: CELL, origin, depth }), CELL);
}
