import type { Mesh } from './mesh.js';
import { bounds, triangleCount } from './mesh.js';
import { triangleNormals } from './quantities.js';

/** A surface in small patches: its triangles by the cell of a cubic grid that their middles lie in, two sheets of it as one. */
export interface SurfacePatches {
  readonly count: number;
  /** The patch of each triangle. */
  readonly patchOf: Int32Array;
  /** Middle of each patch weighted by area; length 3 × patches. */
  readonly centres: Float64Array;
  /** Unit normal of the whole patch, which noise of single triangles hardly turns; 0 where they cancel. Length 3 × patches. */
  readonly normals: Float64Array;
  /** Area of each patch as seen along its normal. */
  readonly areas: Float64Array;
  /** Grid cell of each patch; length 3 × patches. */
  readonly cells: Int32Array;
  /** The patch of a grid cell; −1 where it has none. */
  at(i: number, j: number, k: number): number;
}

/** @param cell edge of a grid cell, in the mesh's unit */
export function surfacePatches(mesh: Mesh, cell: number): SurfacePatches {
  const { positions: p, triangles: t } = mesh;
  const box = bounds(p);
  const doubled = triangleNormals(mesh);
  const patchOf = new Int32Array(triangleCount(mesh));
  const grid = new CellNumbers(triangleCount(mesh));
  for (let f = 0; f < patchOf.length; f++) {
    const a = 3 * t[3 * f];
    const b = 3 * t[3 * f + 1];
    const c = 3 * t[3 * f + 2];
    const at = (k: number): number => Math.floor(((p[a + k] + p[b + k] + p[c + k]) / 3 - box[k]) / cell);
    patchOf[f] = grid.numberOf(at(0), at(1), at(2));
  }
  const { count } = grid;
  const centres = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  const sizes = new Float64Array(count);
  for (let f = 0; f < patchOf.length; f++) {
    const to = patchOf[f];
    const size = Math.hypot(doubled[3 * f], doubled[3 * f + 1], doubled[3 * f + 2]);
    sizes[to] += size;
    for (let k = 0; k < 3; k++) {
      normals[3 * to + k] += doubled[3 * f + k];
      centres[3 * to + k] += (size * (p[3 * t[3 * f] + k] + p[3 * t[3 * f + 1] + k] + p[3 * t[3 * f + 2] + k])) / 3;
    }
  }
  const areas = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    const length = Math.hypot(normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]);
    areas[v] = length / 2;
    for (let k = 0; k < 3; k++) {
      centres[3 * v + k] /= sizes[v] || 1;
      normals[3 * v + k] /= length || 1;
    }
  }
  return { count, patchOf, centres, normals, areas, cells: grid.cells(), at: (i, j, k) => grid.find(i, j, k) };
}

/** Numbers grid cells in the order in which they are first met: a hash table in typed arrays. */
export class CellNumbers {
  count = 0;
  private readonly slots: Int32Array;
  private readonly keys: Int32Array;

  /** @param most cells that may come */
  constructor(most: number) {
    this.slots = new Int32Array(1 << Math.ceil(Math.log2(2 * most + 2))).fill(-1);
    this.keys = new Int32Array(3 * most);
  }

  /** The number of the cell; a new one where it was never met. */
  numberOf(i: number, j: number, k: number): number {
    const slot = this.slot(i, j, k);
    if (this.slots[slot] < 0) {
      this.keys.set([i, j, k], 3 * this.count);
      this.slots[slot] = this.count++;
    }
    return this.slots[slot];
  }

  /** The number of the cell; −1 where it was never met. */
  find(i: number, j: number, k: number): number {
    return this.slots[this.slot(i, j, k)];
  }

  cells(): Int32Array {
    return this.keys.slice(0, 3 * this.count);
  }

  private slot(i: number, j: number, k: number): number {
    const { slots, keys } = this;
    let h = Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35);
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
    let slot = (h ^ (h >>> 13)) & (slots.length - 1);
    for (; slots[slot] >= 0; slot = (slot + 1) & (slots.length - 1)) {
      const key = 3 * slots[slot];
      if (keys[key] === i && keys[key + 1] === j && keys[key + 2] === k) break;
    }
    return slot;
  }
}
