import { extentOfTop } from './flat-top.js';
import type { FlatTop } from './flat-top.js';
import { isInside } from './hole-walls.js';

/** Which places of a flat top are free, on a grid, as sums from its first corner: a rectangle is asked in no time. */
export interface FreeSpace {
  readonly columns: number;
  readonly rows: number;
  readonly cell: number;
  /** u and v of the first cell's corner. */
  readonly origin: readonly [number, number];
  /** Taken cells in the rectangle from the first corner; (columns + 1) × (rows + 1). */
  readonly taken: Uint32Array;
}

const CELL = 0.5;

export interface Disc {
  readonly u: number;
  readonly v: number;
  readonly radius: number;
}

/** The places of a top at least `margin` inside its outline and outside all discs; mm. */
export function freeSpace(top: FlatTop, margin: number, discs: readonly Disc[]): FreeSpace {
  const { outline } = top;
  const [minU, maxU] = extentOfTop(top);
  let minV = Infinity;
  let maxV = -Infinity;
  for (let i = 1; i < outline.length; i += 2) [minV, maxV] = [Math.min(minV, outline[i]), Math.max(maxV, outline[i])];
  const columns = Math.ceil((maxU - minU) / CELL);
  const rows = Math.ceil((maxV - minV) / CELL);
  const blocked = new Uint8Array(columns * rows);
  const eachNear = (u0: number, v0: number, u1: number, v1: number, visit: (i: number, u: number, v: number) => void): void => {
    const c0 = Math.max(0, Math.floor((u0 - minU) / CELL));
    const c1 = Math.min(columns - 1, Math.floor((u1 - minU) / CELL));
    const r0 = Math.max(0, Math.floor((v0 - minV) / CELL));
    const r1 = Math.min(rows - 1, Math.floor((v1 - minV) / CELL));
    for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) visit(r * columns + c, minU + (c + 0.5) * CELL, minV + (r + 0.5) * CELL);
  };
  eachNear(minU, minV, maxU, maxV, (i, u, v) => { if (!isInside(outline, u, v)) blocked[i] = 1; });
  for (let i = 0, j = outline.length - 2; i < outline.length; j = i, i += 2) {
    const ax = outline[j];
    const ay = outline[j + 1];
    const bx = outline[i];
    const by = outline[i + 1];
    const dx = bx - ax;
    const dy = by - ay;
    eachNear(Math.min(ax, bx) - margin, Math.min(ay, by) - margin, Math.max(ax, bx) + margin, Math.max(ay, by) + margin, (cell, u, v) => {
      const s = Math.max(0, Math.min(1, ((u - ax) * dx + (v - ay) * dy) / (dx * dx + dy * dy || 1)));
      if (Math.hypot(u - ax - s * dx, v - ay - s * dy) < margin) blocked[cell] = 1;
    });
  }
  for (const { u, v, radius } of discs) {
    eachNear(u - radius, v - radius, u + radius, v + radius, (i, x, y) => { if (Math.hypot(x - u, y - v) < radius) blocked[i] = 1; });
  }
  const taken = new Uint32Array((columns + 1) * (rows + 1));
  for (let r = 0; r < rows; r++) {
    let inRow = 0;
    for (let c = 0; c < columns; c++) {
      inRow += blocked[r * columns + c];
      taken[(r + 1) * (columns + 1) + c + 1] = taken[r * (columns + 1) + c + 1] + inRow;
    }
  }
  return { columns, rows, cell: CELL, origin: [minU, minV], taken };
}

/** The middle of a free rectangle of this size (along u, along v), the one nearest to `to`; null where there is none. */
export function findRoom(space: FreeSpace, along: number, across: number, to: readonly [number, number]): [number, number] | null {
  const w = Math.ceil(along / space.cell);
  const h = Math.ceil(across / space.cell);
  const stride = space.columns + 1;
  let best: [number, number] | null = null;
  let least = Infinity;
  for (let r = 0; r + h <= space.rows; r++) {
    for (let c = 0; c + w <= space.columns; c++) {
      const t = space.taken;
      if (t[(r + h) * stride + c + w] - t[r * stride + c + w] - t[(r + h) * stride + c] + t[r * stride + c] > 0) continue;
      const u = space.origin[0] + (c + w / 2) * space.cell;
      const v = space.origin[1] + (r + h / 2) * space.cell;
      const d = Math.hypot(u - to[0], v - to[1]);
      if (d < least) {
        best = [u, v];
        least = d;
      }
    }
  }
  return best;
}
