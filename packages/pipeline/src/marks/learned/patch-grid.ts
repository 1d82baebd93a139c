import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import { PICTURE } from './picture.js';

/** A piece of surface laid flat, on a square grid. */
export interface PatchGrid {
  /** Signed height over the plane that touches the surface in the middle, mm; one a cell, row by row. */
  readonly height: Float32Array;
  /** Distance from the middle's normal less that on the flat, mm. */
  readonly drawnIn: Float32Array;
  /** Cosine between the cell's normal and the middle's, less 1. */
  readonly turned: Float32Array;
  /** 1 where the surface reaches, else 0, and the others are 0 as well. */
  readonly covered: Float32Array;
}

/** How far a vertex counts for the cells round it, mm: standard deviation, and the farthest. */
const SPREAD = 1.1;
const FARTHEST = 3;

/** A cell with less weight than this is not covered. */
export const LEAST_WEIGHT = 0.15;

/** The cells that a place at (u, v) on the flat counts for, and how much. */
export function eachCell(u: number, v: number, visit: (cell: number, weight: number) => void): void {
  const { size, step } = PICTURE;
  const column = u / step + (size - 1) / 2;
  const row = v / step + (size - 1) / 2;
  for (let r = Math.max(0, Math.round(row) - 1); r <= Math.min(size - 1, Math.round(row) + 1); r++) {
    for (let c = Math.max(0, Math.round(column) - 1); c <= Math.min(size - 1, Math.round(column) + 1); c++) {
      const away = step * length2(c - column, r - row);
      if (away <= FARTHEST) visit(r * size + c, Math.exp(-(away * away) / (2 * SPREAD * SPREAD)));
    }
  }
}

/**
 * @param positions of the whole surface, and unit normals
 * @param vertices of the piece, the middle first
 * @param flat u, v of each vertex of the piece, mm
 */
export function patchGrid(positions: Float64Array, normals: Float64Array, vertices: Uint32Array, flat: Float64Array): PatchGrid {
  const cells = PICTURE.size * PICTURE.size;
  const [height, drawnIn, turned, covered] = [0, 1, 2, 3].map(() => new Float32Array(cells));
  const m = 3 * vertices[0];
  const nx = normals[m];
  const ny = normals[m + 1];
  const nz = normals[m + 2];
  for (let i = 0; i < vertices.length; i++) {
    const v = 3 * vertices[i];
    const x = positions[v] - positions[m];
    const y = positions[v + 1] - positions[m + 1];
    const z = positions[v + 2] - positions[m + 2];
    const h = x * nx + y * ny + z * nz;
    const off = Math.sqrt(Math.max(0, x * x + y * y + z * z - h * h)) - length2(flat[2 * i], flat[2 * i + 1]);
    const turn = normals[v] * nx + normals[v + 1] * ny + normals[v + 2] * nz - 1;
    eachCell(flat[2 * i], flat[2 * i + 1], (cell, weight) => {
      covered[cell] += weight;
      height[cell] += weight * h;
      drawnIn[cell] += weight * off;
      turned[cell] += weight * turn;
    });
  }
  for (let cell = 0; cell < cells; cell++) {
    const weight = covered[cell] < LEAST_WEIGHT ? 0 : 1 / covered[cell];
    covered[cell] = weight === 0 ? 0 : 1;
    height[cell] *= weight;
    drawnIn[cell] *= weight;
    turned[cell] *= weight;
  }
  return { height, drawnIn, turned, covered };
}
