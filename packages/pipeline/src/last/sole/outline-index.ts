import { planeBounds } from '@cast-to-last/geometry/numerics/plane-bounds';
import type { SoleOutline } from './sole-outline.js';

/** Edge of a cell in which the nearest sample of the outline is known, mm. */
const CELL = 2;

/** Where a place lies against the outline. */
export interface OutlinePlace {
  /** Sample behind it, and the share of the way to the next one. */
  sample: number;
  share: number;
  /** Distance outward from the outline in plan, mm; inside negative. */
  out: number;
}

/** Tells of places within `reach` of an outline where along it and how far off it they lie. */
export class OutlineIndex {
  private readonly outline: SoleOutline;
  private readonly low: readonly [number, number];
  private readonly columns: number;
  private readonly rows: number;
  private readonly nearest: Int32Array;

  /** @param reach mm */
  constructor(outline: SoleOutline, reach: number) {
    this.outline = outline;
    const { points } = outline;
    const { minX, minY, maxX, maxY } = planeBounds(points);
    this.low = [minX - reach, minY - reach];
    this.columns = Math.ceil((maxX - minX + 2 * reach) / CELL) + 1;
    this.rows = Math.ceil((maxY - minY + 2 * reach) / CELL) + 1;
    this.nearest = new Int32Array(this.columns * this.rows).fill(-1);
    const best = new Float64Array(this.nearest.length).fill((reach + CELL) ** 2);
    const span = Math.ceil(reach / CELL) + 1;
    for (let s = 0; s < outline.count; s++) {
      const i0 = Math.round((points[2 * s] - this.low[0]) / CELL);
      const j0 = Math.round((points[2 * s + 1] - this.low[1]) / CELL);
      for (let j = Math.max(0, j0 - span); j <= Math.min(this.rows - 1, j0 + span); j++) {
        for (let i = Math.max(0, i0 - span); i <= Math.min(this.columns - 1, i0 + span); i++) {
          const dx = this.low[0] + i * CELL - points[2 * s];
          const dy = this.low[1] + j * CELL - points[2 * s + 1];
          const square = dx * dx + dy * dy;
          if (square >= best[j * this.columns + i]) continue;
          best[j * this.columns + i] = square;
          this.nearest[j * this.columns + i] = s;
        }
      }
    }
  }

  /** Whether (x, y) lies within reach. */
  reaches(x: number, y: number): boolean {
    const i = Math.round((x - this.low[0]) / CELL);
    const j = Math.round((y - this.low[1]) / CELL);
    return i >= 0 && j >= 0 && i < this.columns && j < this.rows && this.nearest[j * this.columns + i] >= 0;
  }

  /** Writes where (x, y) lies; false where it is out of reach. The place is where the plane square to the outline passes it. */
  locate(x: number, y: number, into: OutlinePlace): boolean {
    const i = Math.round((x - this.low[0]) / CELL);
    const j = Math.round((y - this.low[1]) / CELL);
    if (i < 0 || j < 0 || i >= this.columns || j >= this.rows) return false;
    let s = this.nearest[j * this.columns + i];
    if (s < 0) return false;
    const { count, points, along, outward } = this.outline;
    const ahead = (k: number): number => (x - points[2 * k]) * along[2 * k] + (y - points[2 * k + 1]) * along[2 * k + 1];
    let here = ahead(s);
    for (let guard = 0; here < 0 && guard < 12; guard++) {
      s = (s + count - 1) % count;
      here = ahead(s);
    }
    let next = (s + 1) % count;
    let there = ahead(next);
    for (let guard = 0; there >= 0 && guard < 12; guard++) {
      s = next;
      here = there;
      next = (s + 1) % count;
      there = ahead(next);
    }
    if (here < 0 || there >= 0) return false;
    const share = here / (here - there);
    const mix = (from: Float64Array, k: number): number => from[2 * s + k] + share * (from[2 * next + k] - from[2 * s + k]);
    const nx = mix(outward, 0);
    const ny = mix(outward, 1);
    into.sample = s;
    into.share = share;
    into.out = ((x - mix(points, 0)) * nx + (y - mix(points, 1)) * ny) / Math.hypot(nx, ny);
    return true;
  }
}
