import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { View } from '@cast-to-last/geometry/views/view';
import { viewMesh } from '@cast-to-last/geometry/views/view';

export const SOLE_MAP = {
  /** Distance between samples, mm. */
  cell: 1,
  /** Standard deviation of the blur that takes off texture, mm. */
  blur: 1.5,
  /** Empty margin round the sole, mm. */
  margin: 22,
  /**
   * What lies higher than this over the rest plane (share of foot length) is no sole but hangs over it, as an ankle does;
   * from the ball on the ceiling rises with the steepest toe spring.
   */
  ceiling: 0.12,
  ball: 0.6,
  rise: 0.9,
} as const;

/** Heights of the sole over plan, seen from below. Row-major from the row of least y. */
export interface SoleMap {
  readonly columns: number;
  readonly rows: number;
  readonly cell: number;
  /** x, y of sample (0, 0), mm. */
  readonly origin: readonly [number, number];
  /** z of the sole, blurred, mm; NaN where there is none. */
  readonly height: Float64Array;
}

/** What of a body faces the floor and is seen from there. */
export function soleMap(mesh: Mesh, { footLength }: Pick<Landmarks, 'footLength'>): SoleMap {
  const { cell, margin, blur } = SOLE_MAP;
  const view = viewMesh(mesh, { right: [1, 0, 0], up: [0, -1, 0] }, cell);
  const pad = Math.ceil(margin / cell);
  const columns = view.columns + 2 * pad;
  const rows = view.rows + 2 * pad;
  const raw = new Float64Array(columns * rows).fill(NaN);
  for (let j = 0; j < view.rows; j++) {
    for (let i = 0; i < view.columns; i++) raw[(view.rows - 1 - j + pad) * columns + i + pad] = heightIn(view, i, j, footLength);
  }
  const origin = [view.origin[0] - pad * cell, -(view.origin[1] + (view.rows - 1) * cell) - pad * cell] as const;
  return { columns, rows, cell, origin, height: blurred(raw, columns, rows, blur / cell) };
}

function heightIn(view: View, i: number, j: number, footLength: number): number {
  const z = -view.depth[j * view.columns + i];
  return z <= soleCeiling(view.origin[0] + i * view.cell, footLength) ? z : NaN;
}

/** Height over the rest plane above which nothing is of the sole, mm. */
export const soleCeiling = (x: number, footLength: number): number =>
  SOLE_MAP.ceiling * footLength + SOLE_MAP.rise * Math.max(0, x - SOLE_MAP.ball * footLength);

/** Gaussian blur among the samples that hold a value; the others stay empty. `sigma` in samples. */
export function blurred(values: Float64Array, columns: number, rows: number, sigma: number): Float64Array {
  const reach = Math.ceil(3 * sigma);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)));
  const pass = (from: Float64Array, weight: Float64Array, stride: number, length: number, lines: number, lineStride: number): [Float64Array, Float64Array] => {
    const sum = new Float64Array(from.length);
    const total = new Float64Array(from.length);
    for (let line = 0; line < lines; line++) {
      for (let i = 0; i < length; i++) {
        const to = line * lineStride + i * stride;
        for (let k = Math.max(-reach, -i); k <= reach && i + k < length; k++) {
          const at = to + k * stride;
          if (weight[at] === 0) continue;
          sum[to] += kernel[k + reach] * from[at];
          total[to] += kernel[k + reach] * weight[at];
        }
      }
    }
    return [sum, total];
  };
  const weight = values.map((v) => (Number.isNaN(v) ? 0 : 1));
  const first = pass(values, weight, 1, columns, rows, columns);
  const [sum, total] = pass(...first, columns, rows, columns, 1);
  return values.map((v, i) => (Number.isNaN(v) ? NaN : sum[i] / total[i]));
}

/** z at a place, from the nearest sample; NaN where the map holds none. */
export function heightAt({ columns, rows, cell, origin, height }: SoleMap, x: number, y: number): number {
  const i = Math.round((x - origin[0]) / cell);
  const j = Math.round((y - origin[1]) / cell);
  return i < 0 || j < 0 || i >= columns || j >= rows ? NaN : height[j * columns + i];
}
