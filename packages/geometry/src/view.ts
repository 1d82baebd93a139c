import type { Mesh } from './mesh.js';
import { triangleCount, vertexCount } from './mesh.js';

/** The direction of a view: unit 3-vectors to the right and up on the paper; the viewer looks from right × up. */
export interface ViewAxes {
  readonly right: readonly [number, number, number];
  readonly up: readonly [number, number, number];
}

/** A parallel projection of a surface, sampled on a square grid with one empty sample all round. */
export interface View {
  readonly axes: ViewAxes;
  readonly columns: number;
  readonly rows: number;
  /** Distance between samples, mm. */
  readonly cell: number;
  /** Paper coordinates (right, up) of sample (0, 0), mm. */
  readonly origin: readonly [number, number];
  /** Height of the nearest surface towards the viewer, mm; NaN where there is none. Row-major from the bottom row. */
  readonly depth: Float32Array;
}

export function towardsViewer({ right: r, up: u }: ViewAxes): [number, number, number] {
  return [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]];
}

/** Paper coordinates and height towards the viewer of points; x, y, z in, right, up, depth out. */
export function project(axes: ViewAxes, positions: Float64Array): Float64Array {
  const rows = [axes.right, axes.up, towardsViewer(axes)];
  const out = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      out[i + k] = rows[k][0] * positions[i] + rows[k][1] * positions[i + 1] + rows[k][2] * positions[i + 2];
    }
  }
  return out;
}

/** The view of a mesh; `cell` in mm. Throws RangeError for an empty mesh. Work grows with triangles plus covered samples. */
export function viewMesh(mesh: Mesh, axes: ViewAxes, cell: number): View {
  if (vertexCount(mesh) === 0) throw new RangeError('a view of no vertices');
  const p = project(axes, mesh.positions);
  let [minU, maxU, minV, maxV] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    minU = Math.min(minU, p[i]);
    maxU = Math.max(maxU, p[i]);
    minV = Math.min(minV, p[i + 1]);
    maxV = Math.max(maxV, p[i + 1]);
  }
  // Half a cell off the bounds: a flat side on a row of samples would look half a cell further out.
  const origin: [number, number] = [minU - 0.5 * cell, minV - 0.5 * cell];
  const columns = Math.floor((maxU - minU) / cell + 0.5) + 2;
  const rows = Math.floor((maxV - minV) / cell + 0.5) + 2;
  const depth = new Float32Array(columns * rows).fill(NaN);
  for (let f = 0; f < triangleCount(mesh); f++) {
    drawTriangle(depth, columns, origin, cell, p, 3 * mesh.triangles[3 * f], 3 * mesh.triangles[3 * f + 1], 3 * mesh.triangles[3 * f + 2]);
  }
  return { axes, columns, rows, cell, origin, depth };
}

/** Samples on a shared edge belong to both triangles, so that no sample between two falls through. */
const EDGE_TOLERANCE = 1e-9;

function drawTriangle(
  depth: Float32Array, columns: number, origin: readonly [number, number], cell: number, p: Float64Array, a: number, b: number, c: number,
): void {
  const [ua, va, ub, vb, uc, vc] = [p[a], p[a + 1], p[b], p[b + 1], p[c], p[c + 1]];
  const area = (ub - ua) * (vc - va) - (uc - ua) * (vb - va);
  if (area === 0) return;
  const firstColumn = Math.ceil((Math.min(ua, ub, uc) - origin[0]) / cell);
  const lastColumn = Math.floor((Math.max(ua, ub, uc) - origin[0]) / cell);
  const firstRow = Math.ceil((Math.min(va, vb, vc) - origin[1]) / cell);
  const lastRow = Math.floor((Math.max(va, vb, vc) - origin[1]) / cell);
  for (let row = firstRow; row <= lastRow; row++) {
    const v = origin[1] + row * cell;
    for (let column = firstColumn; column <= lastColumn; column++) {
      const u = origin[0] + column * cell;
      const wb = ((u - ua) * (vc - va) - (uc - ua) * (v - va)) / area;
      const wc = ((ub - ua) * (v - va) - (u - ua) * (vb - va)) / area;
      if (wb < -EDGE_TOLERANCE || wc < -EDGE_TOLERANCE || wb + wc > 1 + EDGE_TOLERANCE) continue;
      const height = p[a + 2] + wb * (p[b + 2] - p[a + 2]) + wc * (p[c + 2] - p[a + 2]);
      const k = row * columns + column;
      if (!(depth[k] >= height)) depth[k] = height;
    }
  }
}

/**
 * Whether each of the points (x, y, z) is seen: not further than `slack` mm behind the nearest surface.
 * One byte a point.
 */
export function visiblePoints(view: View, points: Float64Array, slack: number): Uint8Array {
  const projected = project(view.axes, points);
  const seen = new Uint8Array(points.length / 3);
  for (let i = 0; i < seen.length; i++) {
    const column = Math.round((projected[3 * i] - view.origin[0]) / view.cell);
    const row = Math.round((projected[3 * i + 1] - view.origin[1]) / view.cell);
    const inside = column >= 0 && row >= 0 && column < view.columns && row < view.rows;
    const nearest = inside ? view.depth[row * view.columns + column] : NaN;
    seen[i] = Number.isNaN(nearest) || projected[3 * i + 2] >= nearest - slack ? 1 : 0;
  }
  return seen;
}
