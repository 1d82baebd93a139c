import type { Side } from '@cast-to-last/foot/side';
import { medialSign } from '@cast-to-last/foot/side';
import { silhouette } from '@cast-to-last/geometry/views/contour-lines';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { outlineReach } from '@cast-to-last/geometry/views/outline-reach';
import { simplifyLine } from '@cast-to-last/geometry/sections/simplify-line';
import { smoothLine } from '@cast-to-last/geometry/sections/smooth-line';
import { viewBothWays } from '@cast-to-last/geometry/views/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/views/view';
import type { SheetLine } from '@cast-to-last/sheet/measurement/content';

export type ViewName = 'top' | 'sole' | 'inner' | 'outer';

/** One body seen from one side. */
export interface BodyView {
  readonly view: View;
  readonly outline: readonly SheetLine[];
}

export type BodyViews = Readonly<Record<ViewName, BodyView>>;

const FROM_ABOVE: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const FROM_MINUS_Y: ViewAxes = { right: [1, 0, 0], up: [0, 0, 1] };

/** A body from above, below and both sides. The toes point right but on the side that is seen from +Y. */
export function bodyViews(mesh: Mesh, side: Side, cell: number): BodyViews {
  const upright = viewBothWays(mesh, FROM_ABOVE, cell, 'up');
  const sides = viewBothWays(mesh, FROM_MINUS_Y, cell, 'right');
  const fromAbove = silhouette(upright.front, outlineReach(upright.front, mesh, upright.projected));
  const fromMinusY = silhouette(sides.front, outlineReach(sides.front, mesh, sides.projected));
  const top = { view: upright.front, outline: fromAbove };
  const sole = { view: upright.behind, outline: fromAbove.map((line) => mirrored(line, 1)) };
  const front = { view: sides.front, outline: fromMinusY };
  const behind = { view: sides.behind, outline: fromMinusY.map((line) => mirrored(line, 0)) };
  return medialSign(side) > 0 ? { top, sole, inner: behind, outer: front } : { top, sole, inner: front, outer: behind };
}

/** Outlines without the steps of the samples, of which they follow the edges. */
export const smoothed = (lines: readonly SheetLine[], cell: number): SheetLine[] =>
  lines.map(({ points, closed }) => ({ points: simplifyLine(smoothLine(points, closed, cell, BLUR * cell), TOLERANCE * cell, closed), closed }));

/** Of an outline: its blur, and how far points that are left out may lie off it, in samples. */
const BLUR = 1.6;
const TOLERANCE = 0.08;

/** What is the outline on one side is the outline on the other, turned round. */
function mirrored({ points, closed }: SheetLine, axis: 0 | 1): SheetLine {
  const out = new Float64Array(points.length);
  for (let i = 0, j = points.length - 2; i < points.length; i += 2, j -= 2) {
    out[i] = axis === 0 ? -points[j] : points[j];
    out[i + 1] = axis === 1 ? -points[j + 1] : points[j + 1];
  }
  return { points: out, closed };
}

/** The view with every `by`-th sample alone, and one empty sample all round. */
export function thinned(view: View, by: number): View {
  const columns = Math.ceil(view.columns / by) + 1;
  const rows = Math.ceil(view.rows / by) + 1;
  const depth = new Float32Array(columns * rows).fill(NaN);
  for (let row = 0; row * by < view.rows; row++) {
    for (let column = 0; column * by < view.columns; column++) depth[row * columns + column] = view.depth[row * by * view.columns + column * by];
  }
  return { ...view, columns, rows, cell: view.cell * by, depth };
}
