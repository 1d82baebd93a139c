import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { splineWeights } from './smooth-curve.js';

export const SOLE_HEIGHT = {
  /** Distance of the map's points, mm. */
  cell: 4,
  /** What faces down more steeply than this (z of the unit normal) is sole. */
  facing: -0.5,
  /** What lies above this share of foot length is no sole, whichever way it faces. */
  ceiling: 0.17,
} as const;

/** How high up the sole reaches over each place of the rest plane; beyond its edge it goes on at the height of the edge. */
export interface SoleHeight {
  readonly from: readonly [number, number];
  readonly columns: number;
  readonly rows: number;
  /** mm, row by row along x. */
  readonly heights: Float64Array;
}

/**
 * The height that no part of the sole near a place exceeds, as a smooth map.
 *
 * @param mesh in the foot frame, without its finest noise
 */
export function mapSole(mesh: Mesh, footLength: number): SoleHeight {
  const { cell, facing, ceiling } = SOLE_HEIGHT;
  const { positions: p } = mesh;
  const box = bounds(p);
  // Rows lie alike on both sides of the axis, so that a left foot comes out as a right one does.
  const half = cell * (Math.ceil(Math.max(-box[1], box[4]) / cell) + 2);
  const from = [box[0] - 2 * cell, -half] as const;
  const columns = Math.ceil((box[3] - from[0]) / cell) + 3;
  const rows = Math.round((2 * half) / cell) + 1;
  const highest = new Float64Array(columns * rows).fill(-Infinity);
  const normals = vertexNormals(mesh);
  for (let i = 0; i < p.length; i += 3) {
    if (normals[i + 2] > facing || p[i + 2] > ceiling * footLength) continue;
    const at = Math.round((p[i] - from[0]) / cell) + columns * Math.round((p[i + 1] - from[1]) / cell);
    highest[at] = Math.max(highest[at], p[i + 2]);
  }
  const heights = blur(carryOn(widen(highest, columns, rows), columns, rows), columns, rows);
  return { from, columns, rows, heights };
}

/** The greatest of each point and the eight around it, so that the blur does not sink below the sole. */
function widen(values: Float64Array, columns: number, rows: number): Float64Array {
  const out = values.slice();
  for (let r = 1; r + 1 < rows; r++) {
    for (let c = 1; c + 1 < columns; c++) {
      for (let k = 0; k < 9; k++) {
        const other = values[(r + ((k / 3) | 0) - 1) * columns + c + (k % 3) - 1];
        if (other > out[r * columns + c]) out[r * columns + c] = other;
      }
    }
  }
  return out;
}

/** Empty points take the value of the nearest one across the foot; columns without any, that of the nearest column. */
function carryOn(values: Float64Array, columns: number, rows: number): Float64Array {
  const full: number[] = [];
  for (let c = 0; c < columns; c++) {
    let held = -1;
    for (let r = 0; r < rows; r++) {
      if (values[r * columns + c] === -Infinity) continue;
      const start = held + 1;
      for (let e = start; e < r; e++) values[e * columns + c] = values[(held < 0 || r - e < e - held ? r : held) * columns + c];
      held = r;
    }
    if (held < 0) continue;
    for (let e = held + 1; e < rows; e++) values[e * columns + c] = values[held * columns + c];
    full.push(c);
  }
  for (let c = 0; c < columns; c++) {
    if (values[c] !== -Infinity) continue;
    const nearest = full.reduce((best, other) => (Math.abs(other - c) < Math.abs(best - c) ? other : best), full[0] ?? -1);
    for (let r = 0; r < rows; r++) values[r * columns + c] = nearest < 0 ? 0 : values[r * columns + nearest];
  }
  return values;
}

function blur(values: Float64Array, columns: number, rows: number): Float64Array {
  const along = values.slice();
  for (let r = 0; r < rows; r++) {
    for (let c = 1; c + 1 < columns; c++) along[r * columns + c] = (values[r * columns + c - 1] + 2 * values[r * columns + c] + values[r * columns + c + 1]) / 4;
  }
  const out = along.slice();
  for (let r = 1; r + 1 < rows; r++) {
    for (let c = 0; c < columns; c++) out[r * columns + c] = (along[(r - 1) * columns + c] + 2 * along[r * columns + c] + along[(r + 1) * columns + c]) / 4;
  }
  return out;
}

const wx = new Float64Array(4);
const wy = new Float64Array(4);

/** The map at x, y, mm; beyond its rim it goes on as at the rim. */
export function soleHeightAt({ from, columns, rows, heights }: SoleHeight, x: number, y: number): number {
  const u = Math.min(Math.max((x - from[0]) / SOLE_HEIGHT.cell, 1), columns - 3);
  const v = Math.min(Math.max((y - from[1]) / SOLE_HEIGHT.cell, 1), rows - 3);
  const i = Math.floor(u);
  const j = Math.floor(v);
  splineWeights(u - i, wx);
  splineWeights(v - j, wy);
  let sum = 0;
  for (let b = 0; b < 4; b++) {
    const row = (j + b - 1) * columns + i - 1;
    for (let a = 0; a < 4; a++) sum += wy[b] * wx[a] * heights[row + a];
  }
  return sum;
}
