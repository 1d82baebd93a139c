import { symmetricEigen } from '@cast-to-last/geometry/numerics/symmetric-eigen';
import type { InspectionSurface } from './inspection-surface.js';
import { nearestVertex } from './nearest-vertex.js';

/** Place and size of a set of coarse vertices that stand off. Lengths in mm. */
export interface ExtentShape {
  readonly area: number;
  readonly length: number;
  readonly width: number;
  /** Mean place, weighted by height. */
  readonly centre: readonly [number, number, number];
  /** The one of the vertices nearest to it. */
  readonly centreVertex: number;
}

/**
 * @param vertices coarse vertices
 * @param heights height of each, mm
 */
export function extentShape(surface: InspectionSurface, vertices: Uint32Array, heights: Float64Array): ExtentShape {
  const p = surface.mesh.positions;
  let area = 0;
  let weight = 0;
  const centre: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < vertices.length; i++) {
    const v = vertices[i];
    area += surface.areas[v];
    const w = surface.areas[v] * Math.abs(heights[i]);
    weight += w;
    for (let k = 0; k < 3; k++) centre[k] += w * p[3 * v + k];
  }
  for (let k = 0; k < 3; k++) centre[k] /= weight;
  const moments = new Float64Array(9);
  for (const v of vertices) {
    const d = [p[3 * v] - centre[0], p[3 * v + 1] - centre[1], p[3 * v + 2] - centre[2]];
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) moments[3 * r + c] += (surface.areas[v] * d[r] * d[c]) / area;
  }
  // An evenly covered ellipse measures four standard deviations along its axes.
  const [long, short] = symmetricEigen(moments).values.map((e) => 4 * Math.sqrt(Math.max(0, e)));
  return { area, length: long, width: short, centre, centreVertex: nearestVertex(surface.mesh, vertices, centre).vertex };
}
