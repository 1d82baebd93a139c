import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { ExponentialMap } from '@cast-to-last/geometry/distance/exponential-map';
import type { PatchFoot, SplinePatch } from '@cast-to-last/geometry/splines/spline-patch';
import { fitSplinePatch, newPatchFoot, projectToPatch } from '@cast-to-last/geometry/splines/spline-patch';
import type { InspectionSurface } from './inspection-surface.js';

/** How the fair surface over a mark is fitted; also used when the mark is smoothed. */
export const FAIR = {
  /** Knot spacing, mm. */
  spacing: 3.5,
  bendLength: 0,
  curlLength: 1.3,
  /** Width of the ring of sound surface that steers it, mm. */
  ring: 10,
} as const;

/** Cells of a fair surface from middle to edge, at the most, while marks are measured: a wide patch has wider knots. */
const CELLS = 6;

export interface Stiffness {
  readonly spacing: number;
  readonly bendLength: number;
  readonly curlLength: number;
}

/** A piece of the inspection surface laid flat round a vertex. */
export interface Surroundings {
  readonly vertices: Uint32Array;
  /** u, v of each vertex. */
  readonly flat: Float64Array;
  /** x, y, z of each vertex. */
  readonly points: Float64Array;
  /** From the middle, on the flat, mm. */
  readonly distance: Float64Array;
}

export interface HeightsOver {
  /** Signed height of each vertex over the fair surface, mm; 0 beyond it. */
  readonly heights: Float64Array;
  /** Root mean square of what the fair surface misses where it was steered, mm. */
  readonly ringError: number;
}

/** Fits fair surfaces to what lies round a place on the inspection surface. */
export class FairSurface {
  private readonly surface: InspectionSurface;
  private readonly map: ExponentialMap;
  /** Coarse vertices that belong to marks already found, and so steer nothing. */
  readonly masked: Uint8Array;

  constructor(surface: InspectionSurface) {
    this.surface = surface;
    this.map = new ExponentialMap(surface.mesh, surface.neighbours, surface.normals);
    this.masked = new Uint8Array(surface.areas.length);
  }

  lookAround(vertex: number, radius: number): Surroundings {
    const { vertices, flat } = this.map.around(vertex, radius);
    const points = new Float64Array(3 * vertices.length);
    const distance = new Float64Array(vertices.length);
    for (let i = 0; i < vertices.length; i++) {
      for (let k = 0; k < 3; k++) points[3 * i + k] = this.surface.mesh.positions[3 * vertices[i] + k];
      distance[i] = length2(flat[2 * i], flat[2 * i + 1]);
    }
    return { vertices, flat, points, distance };
  }

  /** Heights over the fair surface that everything outside the mask and within `half` of the middle asks for. */
  heightsOver(around: Surroundings, mask: Uint8Array, half: number): HeightsOver {
    const { flat, points, distance } = around;
    const weights = this.weightsOf(around, mask, half);
    const patch = fitted(around, weights, half, FAIR);
    const heights = new Float64Array(distance.length);
    const foot = newPatchFoot();
    let sum = 0;
    let total = 0;
    for (let i = 0; i < distance.length; i++) {
      if (distance[i] > half) continue;
      heights[i] = heightOver(patch, flat, points, i, foot);
      sum += weights[i] * heights[i] * heights[i];
      total += weights[i];
    }
    return { heights, ringError: total === 0 ? Infinity : Math.sqrt(sum / total) };
  }

  /** The same heights over a surface of another stiffness, of these places alone, in their order. */
  heightsAt(around: Surroundings, mask: Uint8Array, half: number, stiffness: Stiffness, places: readonly number[]): Float64Array {
    const { flat, points, distance } = around;
    const patch = fitted(around, this.weightsOf(around, mask, half), half, stiffness);
    const foot = newPatchFoot();
    return Float64Array.from(places, (i) => (distance[i] > half ? 0 : heightOver(patch, flat, points, i, foot)));
  }

  /** The area that each vertex stands for where it steers the surface, 0 elsewhere. */
  private weightsOf({ vertices, distance }: Surroundings, mask: Uint8Array, half: number): Float64Array {
    const weights = new Float64Array(vertices.length);
    for (let i = 0; i < vertices.length; i++) {
      const v = vertices[i];
      if (mask[i] === 0 && distance[i] <= half && this.masked[v] === 0) weights[i] = this.surface.areas[v];
    }
    return weights;
  }
}

const fitted = ({ flat, points }: Surroundings, weights: Float64Array, half: number, stiffness: Stiffness): SplinePatch =>
  fitSplinePatch(flat, points, weights, { ...stiffness, half, spacing: Math.max(stiffness.spacing, half / CELLS) });

/** @param foot room for the foot of the point */
function heightOver(patch: SplinePatch, flat: Float64Array, points: Float64Array, i: number, foot: PatchFoot): number {
  foot.u = flat[2 * i];
  foot.v = flat[2 * i + 1];
  projectToPatch(patch, points[3 * i], points[3 * i + 1], points[3 * i + 2], foot, 1);
  return foot.over;
}
