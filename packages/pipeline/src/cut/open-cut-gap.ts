import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Plane } from '@cast-to-last/geometry/repair/loop-plane';
import { loopPlane } from '@cast-to-last/geometry/repair/loop-plane';
import type { Point } from '@cast-to-last/foot/landmarks';
import { nearestOnTape } from './near-tape.js';

export const OPEN_CUT_GAP = {
  /** How far from a tape the edges of a cut that it crosses may lie, mm: on the outside of a shell they lie a wall away from it. */
  reach: 10,
  /** Half-width of a 95 % interval of the gap, mm: edges are ragged by a triangle (shells of blended solids, cut open). */
  error: 1.5,
  /** Within this of an open cut's edges, mm, the surface tells nothing else of the cut: they were turned in or out, and repair lies between. */
  beside: 10,
} as const;

/** How far the edges of an open cut stand apart under a tape. */
export interface OpenCutGap {
  /** mm */
  readonly gap: number;
  /** Midway between the edges. */
  readonly at: Point;
}

/**
 * The widest open cut that a tape crosses; null where it crosses none.
 *
 * @param tape x, y, z of the tape's points, in one plane
 * @param cuts x, y, z along the edges of each cut, from its mouth round its end and back
 */
export function openCutGap(tape: Float64Array, cuts: readonly Float64Array[]): OpenCutGap | null {
  const plane = loopPlane(tape);
  if (plane === null) return null;
  let widest: OpenCutGap | null = null;
  for (const cut of cuts) {
    const crossings = crossingsOf(cut, plane).flatMap((edge) => {
      const near = nearestOnTape(tape, edge, OPEN_CUT_GAP.reach);
      return near === null ? [] : [{ edge, foot: near.foot }];
    });
    if (crossings.length < 2) continue;
    const a = crossings[0];
    const b = crossings[crossings.length - 1];
    const gap = apartAlong(a.edge, b.edge, a.foot, b.foot);
    if (widest === null || gap > widest.gap) widest = { gap, at: [(a.edge[0] + b.edge[0]) / 2, (a.edge[1] + b.edge[1]) / 2, (a.edge[2] + b.edge[2]) / 2] };
  }
  return widest;
}

/** Whether a place lies beside the edges of an open cut. */
export function besideOpenCut([x, y, z]: Point, cuts: readonly Float64Array[]): boolean {
  return cuts.some((cut) => {
    for (let i = 0; i < cut.length; i += 3) if (length3(x - cut[i], y - cut[i + 1], z - cut[i + 2]) < OPEN_CUT_GAP.beside) return true;
    return false;
  });
}

/** How far two edges lie apart in the direction in which the tape runs between them: that one stands higher does not lengthen it. */
function apartAlong(a: Point, b: Point, from: Point, to: Point): number {
  const x = to[0] - from[0];
  const y = to[1] - from[1];
  const z = to[2] - from[2];
  const length = length3(x, y, z);
  return length === 0 ? 0 : Math.abs(((b[0] - a[0]) * x + (b[1] - a[1]) * y + (b[2] - a[2]) * z) / length);
}

/** Where an open line meets the plane, in its order. */
function crossingsOf(line: Float64Array, { normal, offset }: Plane): Point[] {
  const height = (i: number): number => normal[0] * line[i] + normal[1] * line[i + 1] + normal[2] * line[i + 2] - offset;
  const found: Point[] = [];
  for (let i = 0; i + 3 < line.length; i += 3) {
    const before = height(i);
    const after = height(i + 3);
    if (before < 0 === after < 0) continue;
    const s = before / (before - after);
    found.push([line[i] + s * (line[i + 3] - line[i]), line[i + 1] + s * (line[i + 4] - line[i + 1]), line[i + 2] + s * (line[i + 5] - line[i + 2])]);
  }
  return found;
}
