import { coarsen } from '@cast-to-last/geometry/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { bounds, triangleCount, vertexCount } from '@cast-to-last/geometry/mesh';
import { vertexNormals } from '@cast-to-last/geometry/quantities';
import type { Rows } from '@cast-to-last/geometry/topology';
import { vertexNeighbours } from '@cast-to-last/geometry/topology';

/**
 * Tells the two sheets of a shell's scan apart where they hang together over the rim: on a coarse surface, vertices that
 * have another one close behind them, back to back, belong to a sheet; the rim between the sheets, and the rims of holes
 * through the wall, have none.
 */
export const SHEETS_DEFAULTS = {
  /** Vertex spacing of the coarse surface, mm. */
  spacing: 2,
  /** Thinnest and thickest wall, mm. */
  thinnest: 0.2,
  thickest: 15,
  /** Cosine between the normals of two vertices back to back. */
  backToBack: -0.6,
  /** How far beside the line into the wall the other may lie, over the depth, and at least, mm. */
  aside: 0.5,
  asideLeast: 2,
  /** Neighbours whose normals agree by this cosine belong to one sheet. */
  agree: 0.2,
  /** Share of the vertices that must have another one behind them, and that the smaller sheet must have of both. */
  share: 0.5,
  smaller: 0.25,
} as const;

export interface Sheets {
  /** One byte a triangle: 1 on the sheet that lay on the foot, and on the outer one. */
  readonly inner: Uint8Array;
  readonly outer: Uint8Array;
}

/** The sheets of a consistently oriented, connected mesh; null where it is a single sheet. */
export function separateSheets(mesh: Mesh): Sheets | null {
  const d = SHEETS_DEFAULTS;
  const { mesh: coarse, cellOf } = coarsen(mesh, d.spacing);
  const neighbours = vertexNeighbours(coarse);
  const normals = vertexNormals(coarse);
  const { paired, inward } = backToBack(coarse, normals);
  if (inward) for (let i = 0; i < normals.length; i++) normals[i] = -normals[i];
  const count = vertexCount(coarse);
  if (paired.reduce((sum, one) => sum + one, 0) < d.share * count) return null;
  const sheet = new Int32Array(count).fill(-1);
  const sizes: number[] = [];
  for (let v = 0; v < count; v++) {
    if (paired[v] === 1 && sheet[v] < 0) sizes.push(flood(v, sizes.length, sheet, neighbours, (a, b) => paired[b] === 1 && agree(normals, a, b)));
  }
  const [first, second] = Array.from(sizes.keys()).sort((a, b) => sizes[b] - sizes[a]);
  if (second === undefined || sizes[second] < d.smaller * (sizes[first] + sizes[second])) return null;
  const [inner, outer] = facing(coarse, normals, sheet, first) < facing(coarse, normals, sheet, second) ? [first, second] : [second, first];
  takeInPatches(sheet, [inner, outer], neighbours);
  const on = (wanted: number): Uint8Array =>
    Uint8Array.from({ length: triangleCount(mesh) }, (_, t) =>
      [0, 1, 2].every((k) => sheet[cellOf[mesh.triangles[3 * t + k]]] === wanted) ? 1 : 0,
    );
  return { inner: on(inner), outer: on(outer) };
}

/** One byte a vertex: 1 where another lies close behind it and faces away; `inward` where the normals point into the wall. */
function backToBack({ positions: p }: Mesh, normals: Float64Array): { paired: Uint8Array; inward: boolean } {
  const d = SHEETS_DEFAULTS;
  const count = p.length / 3;
  const box = bounds(p);
  const cells = [0, 1, 2].map((k) => Math.floor((box[k + 3] - box[k]) / d.thickest) + 3);
  const cellOf = (v: number): number => {
    const [x, y, z] = [0, 1, 2].map((k) => Math.floor((p[3 * v + k] - box[k]) / d.thickest) + 1);
    return (z * cells[1] + y) * cells[0] + x;
  };
  const head = new Int32Array(cells[0] * cells[1] * cells[2]).fill(-1);
  const next = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    const cell = cellOf(v);
    next[v] = head[cell];
    head[cell] = v;
  }
  const behind = new Uint8Array(count);
  const before = new Uint8Array(count);
  let sum = 0;
  for (let v = 0; v < count; v++) {
    const [x, y, z] = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    const [nx, ny, nz] = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
    const cell = cellOf(v);
    for (let step = 0; step < 27; step++) {
      const other = cell + (((step / 9) | 0) - 1) * cells[0] * cells[1] + ((((step / 3) | 0) % 3) - 1) * cells[0] + (step % 3) - 1;
      for (let w = head[other]; w >= 0; w = next[w]) {
        if (nx * normals[3 * w] + ny * normals[3 * w + 1] + nz * normals[3 * w + 2] > d.backToBack) continue;
        const [dx, dy, dz] = [p[3 * w] - x, p[3 * w + 1] - y, p[3 * w + 2] - z];
        const along = nx * dx + ny * dy + nz * dz;
        const depth = Math.abs(along);
        if (depth < d.thinnest || depth > d.thickest) continue;
        const aside = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - along * along));
        if (aside > Math.max(d.asideLeast, d.aside * depth)) continue;
        if (along < 0) behind[v] = 1;
        else before[v] = 1;
      }
    }
    sum += behind[v] - before[v];
  }
  return sum >= 0 ? { paired: behind, inward: false } : { paired: before, inward: true };
}

const agree = (n: Float64Array, a: number, b: number): boolean =>
  n[3 * a] * n[3 * b] + n[3 * a + 1] * n[3 * b + 1] + n[3 * a + 2] * n[3 * b + 2] > SHEETS_DEFAULTS.agree;

/** Numbers all that is joined to a vertex; returns how many that are. */
function flood(from: number, number: number, sheet: Int32Array, { offsets, items }: Rows, joined: (a: number, b: number) => boolean): number {
  const queue = [from];
  sheet[from] = number;
  for (const v of queue) {
    for (let i = offsets[v]; i < offsets[v + 1]; i++) {
      const w = items[i];
      if (sheet[w] >= 0 || !joined(v, w)) continue;
      sheet[w] = number;
      queue.push(w);
    }
  }
  return queue.length;
}

/** How far a sheet faces away from its own middle: more for the outer one, whose normals point away from the plaster too. */
function facing({ positions: p }: Mesh, normals: Float64Array, sheet: Int32Array, number: number): number {
  const middle = [0, 0, 0];
  let count = 0;
  for (let v = 0; v < sheet.length; v++) {
    if (sheet[v] !== number) continue;
    count++;
    for (let k = 0; k < 3; k++) middle[k] += p[3 * v + k];
  }
  let sum = 0;
  for (let v = 0; v < sheet.length; v++) {
    if (sheet[v] === number) for (let k = 0; k < 3; k++) sum += normals[3 * v + k] * (p[3 * v + k] - middle[k] / count);
  }
  return sum / count;
}

/** Gives the patches between, such as webs where the wall is thick, to the sheet that they touch; those that touch both are the rims. */
function takeInPatches(sheet: Int32Array, sheets: readonly [number, number], neighbours: Rows): void {
  const [inner, outer] = sheets;
  const { offsets, items } = neighbours;
  const seen = new Uint8Array(sheet.length);
  const own = (v: number): boolean => sheet[v] === inner || sheet[v] === outer;
  for (let start = 0; start < sheet.length; start++) {
    if (own(start) || seen[start] === 1) continue;
    seen[start] = 1;
    const patch = [start];
    const touched = new Set<number>();
    for (const v of patch) {
      for (let i = offsets[v]; i < offsets[v + 1]; i++) {
        const w = items[i];
        if (own(w)) touched.add(sheet[w]);
        else if (seen[w] === 0) {
          seen[w] = 1;
          patch.push(w);
        }
      }
    }
    const given = touched.size === 1 ? [...touched][0] : -1;
    for (const v of patch) sheet[v] = given;
  }
}
