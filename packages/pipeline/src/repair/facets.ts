import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';

/** Cells along a side of the cube on which directions are sorted. */
const CELLS = 8;

/** What a surface faces: middle, unit normal and area of triangles, and these by the cell of a cube that their normals point to. */
export interface Facets {
  /** x, y, z of the vertices. */
  readonly positions: Float64Array;
  readonly middles: Float64Array;
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  readonly total: number;
  /** Of each cell, the sum of area times normal and the area. */
  readonly sums: Float64Array;
  /** The triangles of cell b stand in `sorted` from `starts[b]` to `starts[b + 1]`, rising; those without area in none. */
  readonly sorted: Uint32Array;
  readonly starts: Uint32Array;
  /** The angle between a cell's sum and the normal in it that is farthest off. */
  readonly spread: Float64Array;
}

/** Those of all triangles of a mesh. */
export function facetsOf(mesh: Mesh): Facets {
  const normals = triangleNormals(mesh);
  const areas = new Float64Array(normals.length / 3);
  makeUnit(normals, areas);
  let total = 0;
  for (let f = 0; f < areas.length; f++) total += areas[f];
  const cellOf = new Uint16Array(areas.length);
  const sums = sortIntoCells(normals, areas, cellOf);
  const starts = new Uint32Array(sums.length / 4 + 1);
  const sorted = byCell(cellOf, starts);
  return { positions: mesh.positions, middles: middlesOf(mesh), normals, areas, total, sums, sorted, starts, spread: spreadOf(normals, sums, sorted, starts) };
}

function middlesOf({ positions: p, triangles: t }: Mesh): Float64Array {
  const middles = new Float64Array(t.length);
  for (let k = 0; k < middles.length; k += 3) {
    const a = 3 * t[k];
    const b = 3 * t[k + 1];
    const c = 3 * t[k + 2];
    middles[k] = (p[a] + p[b] + p[c]) / 3;
    middles[k + 1] = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    middles[k + 2] = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
  }
  return middles;
}

/** The triangles whose normals lie within an angle of a unit vector, radians. */
export function facesNear(facets: Facets, direction: readonly number[], angle: number): Uint32Array {
  const { normals, sorted, starts } = facets;
  const x = direction[0];
  const y = direction[1];
  const z = direction[2];
  const least = Math.cos(angle);
  const cells = cellsNear(facets, direction, angle);
  const near = new Uint32Array(cells.reduce((sum, b) => sum + starts[b + 1] - starts[b], 0));
  let count = 0;
  for (const b of cells) {
    for (let i = starts[b]; i < starts[b + 1]; i++) {
      const k = 3 * sorted[i];
      if (x * normals[k] + y * normals[k + 1] + z * normals[k + 2] >= least) near[count++] = sorted[i];
    }
  }
  return near.subarray(0, count);
}

/** The cells in which normals within an angle of a unit vector may stand. */
function cellsNear({ sums, starts, spread }: Facets, direction: readonly number[], angle: number): number[] {
  const cells: number[] = [];
  for (let b = 0, k = 0; b < spread.length; b++, k += 4) {
    if (starts[b] === starts[b + 1]) continue;
    const along = (direction[0] * sums[k] + direction[1] * sums[k + 1] + direction[2] * sums[k + 2]) / length3(sums[k], sums[k + 1], sums[k + 2]);
    // Rounding is far below the hundred-thousandth of a radian that is allowed for.
    if (Math.acos(Math.max(-1, Math.min(1, along))) <= angle + spread[b] + 1e-5) cells.push(b);
  }
  return cells;
}

/** Brings normals of twice the area to length 1, or 0 where a triangle has none, and fills in the areas. */
function makeUnit(normals: Float64Array, areas: Float64Array): void {
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const twice = length3(normals[k], normals[k + 1], normals[k + 2]);
    areas[f] = twice / 2;
    const scale = twice > 0 ? 1 / twice : 0;
    normals[k] *= scale;
    normals[k + 1] *= scale;
    normals[k + 2] *= scale;
  }
}

/** Fills in the cell of each triangle, one past the last where it has no area, and returns the sums of the cells. */
function sortIntoCells(normals: Float64Array, areas: Float64Array, cellOf: Uint16Array): Float64Array {
  const sums = new Float64Array(4 * 6 * CELLS * CELLS);
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const cell = cellTowards(normals[k], normals[k + 1], normals[k + 2]);
    cellOf[f] = cell;
    if (4 * cell === sums.length) continue;
    sums[4 * cell] += areas[f] * normals[k];
    sums[4 * cell + 1] += areas[f] * normals[k + 1];
    sums[4 * cell + 2] += areas[f] * normals[k + 2];
    sums[4 * cell + 3] += areas[f];
  }
  return sums;
}

/** The cell of the cube that a vector points to; one past the last for none. */
function cellTowards(x: number, y: number, z: number): number {
  const a = Math.abs(x);
  const b = Math.abs(y);
  const c = Math.abs(z);
  if (a >= b && a >= c) return a === 0 ? 6 * CELLS * CELLS : cellOn(x > 0 ? 1 : 0, y / a, z / a);
  return b >= c ? cellOn(y > 0 ? 3 : 2, z / b, x / b) : cellOn(z > 0 ? 5 : 4, x / c, y / c);
}

const cellOn = (side: number, u: number, v: number): number => (side * CELLS + placeOf(u)) * CELLS + placeOf(v);

const placeOf = (ratio: number): number => Math.min(CELLS - 1, Math.floor(((ratio + 1) / 2) * CELLS));

/** The triangles by their cells, those of none left out; fills in where each cell starts. */
function byCell(cellOf: Uint16Array, starts: Uint32Array): Uint32Array {
  const cells = starts.length - 1;
  for (let f = 0; f < cellOf.length; f++) if (cellOf[f] < cells) starts[cellOf[f] + 1]++;
  for (let b = 0; b < cells; b++) starts[b + 1] += starts[b];
  const next = starts.slice();
  const sorted = new Uint32Array(starts[cells]);
  for (let f = 0; f < cellOf.length; f++) if (cellOf[f] < cells) sorted[next[cellOf[f]]++] = f;
  return sorted;
}

/** How far the normals of each cell spread from its sum, radians. */
function spreadOf(normals: Float64Array, sums: Float64Array, sorted: Uint32Array, starts: Uint32Array): Float64Array {
  const spread = new Float64Array(starts.length - 1);
  for (let b = 0; b < spread.length; b++) {
    const x = sums[4 * b];
    const y = sums[4 * b + 1];
    const z = sums[4 * b + 2];
    let least = Infinity;
    for (let i = starts[b]; i < starts[b + 1]; i++) {
      const k = 3 * sorted[i];
      const along = x * normals[k] + y * normals[k + 1] + z * normals[k + 2];
      if (along < least) least = along;
    }
    if (least < Infinity) spread[b] = Math.acos(Math.max(-1, Math.min(1, least / length3(x, y, z))));
  }
  return spread;
}
