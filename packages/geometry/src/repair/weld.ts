import type { Mesh } from '../mesh/mesh.js';
import { vertexCount } from '../mesh/mesh.js';

/**
 * Joins vertices that lie at the same place, exactly or within a tolerance, by a hash grid: each vertex goes to the first
 * one met within the tolerance. Linear in the number of vertices.
 */
export const WELD_DEFAULTS = {
  /** Tolerance over the diagonal of the bulk's bounds: 0.3 µm on a foot, against 10 nm of jitter in written coordinates. */
  relativeToSize: 1e-6,
  /** Tolerance over the largest coordinate: four steps of a 32-bit float, for scans that lie far from their origin. */
  relativeToCoordinate: 2 ** -21,
  /** Points looked at for the size, the share at each end that may be strays, and how far the bulk reaches beyond the rest. */
  sample: 5000,
  strays: 0.01,
  slack: 0.5,
  /** Edge of a grid cell over the tolerance; wide cells make looking into a second cell rare. */
  cell: 32,
  /** Least edge of a cell over the mesh's extent, where the tolerance is next to nothing. */
  finestCell: 2 ** -40,
} as const;

export interface Welded {
  readonly mesh: Mesh;
  /** The new number of each old vertex; length = old vertices. */
  readonly vertex: Uint32Array;
  /** Vertices that went into another one. */
  readonly welded: number;
}

/** The tolerance in the mesh's unit that stands for "the same place" on this mesh. */
export function weldTolerance(positions: Float64Array): number {
  const box = bulk(positions);
  const size = Math.hypot(box[3] - box[0], box[4] - box[1], box[5] - box[2]);
  const largest = box.reduce((most, c) => Math.max(most, Math.abs(c)), 0);
  return Math.max(WELD_DEFAULTS.relativeToSize * size, WELD_DEFAULTS.relativeToCoordinate * largest);
}

/** Bounds of the bulk of the points, as [minX, minY, minZ, maxX, maxY, maxZ]: a few strays far away do not count. */
export function bulk(positions: Float64Array): Float64Array {
  const count = positions.length / 3;
  const sample = Math.min(count, WELD_DEFAULTS.sample);
  const box = new Float64Array(6);
  for (let k = 0; k < 3 && sample > 0; k++) {
    const sorted = Float64Array.from({ length: sample }, (_, i) => positions[3 * Math.floor((i * count) / sample) + k]).sort();
    const trim = Math.floor(WELD_DEFAULTS.strays * sample);
    const low = sorted[trim];
    const high = sorted[sample - 1 - trim];
    const slack = WELD_DEFAULTS.slack * (high - low);
    box[k] = Math.max(sorted[0], low - slack);
    box[k + 3] = Math.min(sorted[sample - 1], high + slack);
  }
  return box;
}

const hashCell = (i: number, j: number, k: number): number => {
  let h = Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  return h ^ (h >>> 13);
};

/** The mesh with vertices closer than `tolerance` (mesh unit) joined; triangles keep their order and may collapse. */
export function weld(mesh: Mesh, tolerance: number = weldTolerance(mesh.positions)): Welded {
  const { positions: p, triangles } = mesh;
  const count = vertexCount(mesh);
  const [x0, y0, z0] = p.length > 0 ? p : [0, 0, 0];
  let extent = 0;
  for (let i = 0; i < p.length; i += 3) extent = Math.max(extent, Math.abs(p[i] - x0), Math.abs(p[i + 1] - y0), Math.abs(p[i + 2] - z0));
  // Cells so small that their numbers were no whole numbers would never end.
  const perCell = 1 / Math.max(WELD_DEFAULTS.cell * tolerance, extent * WELD_DEFAULTS.finestCell, Number.MIN_VALUE * 2 ** 60);
  const reach = tolerance * perCell;
  const near = tolerance * tolerance;
  const size = 1 << Math.max(4, Math.ceil(Math.log2(count / 2 + 1)));
  const first = new Int32Array(size).fill(-1);
  const after = new Int32Array(count);
  const kept = new Float64Array(3 * count);
  const vertex = new Uint32Array(count);
  let found = 0;

  const lookup = (slot: number, x: number, y: number, z: number): number => {
    for (let v = first[slot]; v >= 0; v = after[v]) {
      const dx = kept[3 * v] - x;
      const dy = kept[3 * v + 1] - y;
      const dz = kept[3 * v + 2] - z;
      if (dx * dx + dy * dy + dz * dz <= near) return v;
    }
    return -1;
  };

  for (let n = 0; n < count; n++) {
    const x = p[3 * n];
    const y = p[3 * n + 1];
    const z = p[3 * n + 2];
    const cx = (x - x0) * perCell;
    const cy = (y - y0) * perCell;
    const cz = (z - z0) * perCell;
    const i = Math.floor(cx);
    const j = Math.floor(cy);
    const k = Math.floor(cz);
    const slot = hashCell(i, j, k) & (size - 1);
    let v = lookup(slot, x, y, z);
    if (v < 0) {
      const ih = Math.floor(cx + reach);
      const jh = Math.floor(cy + reach);
      const kh = Math.floor(cz + reach);
      for (let a = Math.floor(cx - reach); a <= ih && v < 0; a++) {
        for (let b = Math.floor(cy - reach); b <= jh && v < 0; b++) {
          for (let c = Math.floor(cz - reach); c <= kh && v < 0; c++) {
            if (a !== i || b !== j || c !== k) v = lookup(hashCell(a, b, c) & (size - 1), x, y, z);
          }
        }
      }
    }
    if (v < 0) {
      v = found++;
      kept[3 * v] = x;
      kept[3 * v + 1] = y;
      kept[3 * v + 2] = z;
      after[v] = first[slot];
      first[slot] = v;
    }
    vertex[n] = v;
  }
  const welded = new Uint32Array(triangles.length);
  for (let h = 0; h < triangles.length; h++) welded[h] = vertex[triangles[h]];
  return { mesh: { positions: kept.slice(0, 3 * found), triangles: welded }, vertex, welded: count - found };
}
