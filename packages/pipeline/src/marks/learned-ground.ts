import type { Surroundings } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';

/** The vertices of a mark, and of its margin where no other mark lies: there the learned heights say what it moved. */
export const learnedGround = (vertices: Uint32Array, core: ReadonlySet<number>, masked: Uint8Array): ReadonlySet<number> =>
  new Set([...vertices, ...[...core].filter((c) => masked[c] === 0)]);

/** Where a surface is fitted, with the weight of each place. */
interface Weighed extends Surroundings {
  readonly half: number;
  readonly weights: Float64Array;
}

/**
 * Lets what the learned heights leave of a mark steer the fair surface a little: across a wide mark the ring alone says little.
 * Points and weights are changed in place.
 *
 * @param of vertices that it is done at
 * @param share of what sound surface counts by
 */
export function steerByLearned({ vertices, points, weights, distance, half }: Weighed, { areas, normals, learned }: InspectionSurface, of: ReadonlySet<number>, share: number): void {
  if (learned === undefined) return;
  vertices.forEach((c, i) => {
    if (distance[i] > half || !of.has(c)) return;
    weights[i] = share * areas[c];
    for (let k = 0; k < 3; k++) points[3 * i + k] -= learned[c] * normals[3 * c + k];
  });
}
