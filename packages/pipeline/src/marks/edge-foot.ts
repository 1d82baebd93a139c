import { heightOver } from './depth-over.js';
import type { FoundMark } from './found-mark.js';
import type { InspectionSurface } from './inspection-surface.js';
import { nearOnSurface } from './near-on-surface.js';
import { nearestVertex } from './nearest-vertex.js';
import { withoutMarks } from './without-marks.js';

export const EDGE_FOOT = {
  /** What lies this near to the hollow steers nothing, mm. */
  margins: [8, 12],
  /** Heights beside count as much as their upper, the hollow as its lower share. */
  tail: 0.05,
  /** A hollow is the foot of an edge where what stands up beside it is at least so high, as a share of its depth. */
  standsUp: 0.8,
  /** The edge reaches as far as it stands up by this share of its height, and by this much, mm. */
  edgeShare: 0.25,
  leastEdge: 0.07,
} as const;

/**
 * At the foot of a bandage's edge the surface has a hollow line, which is no mark: filled, it would lie as high as the edge.
 * It is told by that the ground farther round asks for a surface through the hollow, over which the edge stands up.
 *
 * @param hollow a line that lies lower than what is right beside it
 * @returns the edge that stands up beside the hollow; the hollow itself where none does
 */
export function edgeBeside(surface: InspectionSurface, hollow: FoundMark): FoundMark {
  const looked = EDGE_FOOT.margins.map((margin) => heightsRound(surface, hollow, margin));
  const best = looked.reduce((a, b) => (b.over * a.under > a.over * b.under ? b : a));
  if (best.over < Math.max(EDGE_FOOT.leastEdge, EDGE_FOOT.standsUp * best.under)) return hollow;
  const edge = Math.max(EDGE_FOOT.leastEdge, EDGE_FOOT.edgeShare * best.over);
  const vertices = best.reached.filter((_, i) => best.heights[i] >= edge);
  return markOf(surface, hollow, vertices, best.over);
}

interface Round {
  readonly reached: Uint32Array;
  /** Over the surface that the ground farther round asks for, mm. */
  readonly heights: Float64Array;
  /** How far the hollow lies under it, and what is beside stands over it, mm. */
  readonly under: number;
  readonly over: number;
}

function heightsRound(surface: InspectionSurface, hollow: FoundMark, margin: number): Round {
  const clean = withoutMarks(surface, [{ ...hollow, margin }]);
  const { reached } = nearOnSurface(surface, hollow.vertices, margin - 1);
  const heights = Float64Array.from(reached, (v) => heightOver(clean, surface, v));
  const sorted = heights.toSorted();
  const tail = Math.floor(EDGE_FOOT.tail * sorted.length);
  return { reached, heights, under: Math.max(0, -sorted[tail]), over: sorted[sorted.length - 1 - tail] };
}

function markOf(surface: InspectionSurface, hollow: FoundMark, vertices: Uint32Array, depth: number): FoundMark {
  const p = surface.mesh.positions;
  const middle = [0, 0, 0];
  for (const v of vertices) for (let k = 0; k < 3; k++) middle[k] += p[3 * v + k] / vertices.length;
  const { vertex: centreVertex } = nearestVertex(surface.mesh, vertices, middle);
  const area = vertices.reduce((sum, v) => sum + surface.areas[v], 0);
  const centre = [p[3 * centreVertex], p[3 * centreVertex + 1], p[3 * centreVertex + 2]] as const;
  return { ...hollow, vertices, centreVertex, centre, depth, area, width: area / Math.max(hollow.length, 1) };
}
