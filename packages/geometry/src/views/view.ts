import type { Mesh } from '../mesh/mesh.js';
import { bounds, vertexCount } from '../mesh/mesh.js';

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
  const { right: r, up: u } = axes;
  const d = towardsViewer(axes);
  const out = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    out[i] = r[0] * x + r[1] * y + r[2] * z;
    out[i + 1] = u[0] * x + u[1] * y + u[2] * z;
    out[i + 2] = d[0] * x + d[1] * y + d[2] * z;
  }
  return out;
}

/** The view of a mesh; `cell` in mm. Throws RangeError for an empty mesh. Work grows with triangles plus covered samples. */
export function viewMesh(mesh: Mesh, axes: ViewAxes, cell: number): View {
  const { frame, positions } = frameOf(mesh, axes, cell);
  const depth = new Float32Array(frame.columns * frame.rows).fill(NaN);
  drawAll(frame, mesh, positions, depth, null);
  return { ...frame, depth };
}

/** Which axis of the paper points the other way in the view from behind. */
export type Turn = 'right' | 'up';

export interface BothViews {
  readonly front: View;
  readonly behind: View;
  /** The mesh's vertices as `project` gives them for the front. */
  readonly projected: Float64Array;
}

/**
 * The view of a mesh and the view from behind it, for little more than the work of one: `behind` has one of the axes
 * turned round. Throws RangeError for an empty mesh.
 */
export function viewBothWays(mesh: Mesh, axes: ViewAxes, cell: number, turn: Turn): BothViews {
  const { frame, positions } = frameOf(mesh, axes, cell);
  const { columns, rows, origin } = frame;
  const near = new Float32Array(columns * rows).fill(NaN);
  const far = new Float32Array(columns * rows).fill(NaN);
  drawAll(frame, mesh, positions, near, far);
  const depth = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const k = turn === 'right' ? row * columns + columns - 1 - column : (rows - 1 - row) * columns + column;
      depth[row * columns + column] = -far[k];
    }
  }
  const turned = ([x, y, z]: ViewAxes['right']): ViewAxes['right'] => [-x, -y, -z];
  const behind: View =
    turn === 'right'
      ? { ...frame, depth, axes: { right: turned(axes.right), up: axes.up }, origin: [-(origin[0] + (columns - 1) * cell), origin[1]] }
      : { ...frame, depth, axes: { right: axes.right, up: turned(axes.up) }, origin: [origin[0], -(origin[1] + (rows - 1) * cell)] };
  return { front: { ...frame, depth: near }, behind, projected: positions };
}

type Frame = Omit<View, 'depth'>;

function frameOf(mesh: Mesh, axes: ViewAxes, cell: number): { readonly frame: Frame; readonly positions: Float64Array } {
  if (vertexCount(mesh) === 0) throw new RangeError('a view of no vertices');
  const p = project(axes, mesh.positions);
  const [minU, minV, , maxU, maxV] = bounds(p);
  // Half a cell off the bounds: a flat side on a row of samples would look half a cell further out.
  const origin: [number, number] = [minU - 0.5 * cell, minV - 0.5 * cell];
  const columns = Math.floor((maxU - minU) / cell + 0.5) + 2;
  const rows = Math.floor((maxV - minV) / cell + 0.5) + 2;
  return { frame: { axes, columns, rows, cell, origin }, positions: p };
}

/** Samples on a shared edge belong to both triangles, so that no sample between two falls through. */
export const EDGE_TOLERANCE = 1e-9;

/** Draws every triangle: `near` gets the highest surface at each sample, `far` the lowest. */
function drawAll({ columns, cell, origin }: Frame, { triangles: t }: Mesh, p: Float64Array, near: Float32Array, far: Float32Array | null): void {
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    const ua = p[a];
    const va = p[a + 1];
    const ub = p[b];
    const vb = p[b + 1];
    const uc = p[c];
    const vc = p[c + 1];
    const area = (ub - ua) * (vc - va) - (uc - ua) * (vb - va);
    if (area === 0) continue;
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
        if (!(near[k] >= height)) near[k] = height;
        if (far !== null && !(far[k] <= height)) far[k] = height;
      }
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
