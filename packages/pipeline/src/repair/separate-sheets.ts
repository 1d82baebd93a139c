import { coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds, triangleCount, vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { Rows } from '@cast-to-last/geometry/mesh/topology';
import { vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';

/**
 * Tells the two sheets of a shell's scan apart where they hang together over the rim. On a coarse surface, vertices that
 * have another one close behind them, back to back, belong to a wall; those from which a short walk along the surface leads
 * to where it faces the other way lie at its rim. Without the rim the wall falls into its two sheets, which then grow back
 * towards the rim from both sides.
 */
export const SHEETS_DEFAULTS = {
  /** Vertex spacing of the coarse surface, mm. */
  spacing: 2,
  /** Thinnest and thickest wall, mm. */
  thinnest: 0.2,
  thickest: 15,
  /** Cosine between the normals of two vertices back to back, and of where the surface faces the other way. */
  backToBack: -0.75,
  /** How far beside the line into the wall the other may lie, over the depth, and at least, mm. */
  aside: 0.4,
  asideLeast: 1.6,
  /** How far a walk over the rim may be: times the usual depth, and besides, mm. */
  walkDepths: 1.3,
  walk: 5,
  /** Neighbours that are joined face the same way by this cosine. */
  agree: 0.4,
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
  const { depth, inward } = depthBehind(coarse, normals);
  if (inward) for (let i = 0; i < normals.length; i++) normals[i] = -normals[i];
  const count = vertexCount(coarse);
  const depths = depth.filter((x) => !Number.isNaN(x)).sort();
  if (depths.length < d.share * count) return null;
  const rim = atRim(coarse, normals, neighbours, d.walkDepths * depths[depths.length >> 1] + d.walk);
  const sheet = new Int32Array(count).fill(-1);
  const sizes: number[] = [];
  const joined = (a: number, b: number): boolean => !Number.isNaN(depth[b]) && cosine(normals, a, b) > d.agree;
  for (let v = 0; v < count; v++) {
    if (sheet[v] >= 0 || rim[v] === 1 || Number.isNaN(depth[v])) continue;
    sheet[v] = sizes.length;
    sizes.push(spread([v], sheet, neighbours, (a, b) => rim[b] === 0 && joined(a, b)));
  }
  const [first, second] = Array.from(sizes.keys()).sort((a, b) => sizes[b] - sizes[a]);
  if (second === undefined || sizes[second] < d.smaller * (sizes[first] + sizes[second])) return null;
  const [inner, outer] = facing(coarse, normals, sheet, first) < facing(coarse, normals, sheet, second) ? [first, second] : [second, first];
  const own: number[] = [];
  for (let v = 0; v < count; v++) {
    if (sheet[v] === inner || sheet[v] === outer) own.push(v);
    else sheet[v] = -1;
  }
  spread(own, sheet, neighbours, joined);
  takeInPatches(sheet, neighbours);
  const on = (wanted: number): Uint8Array =>
    Uint8Array.from({ length: triangleCount(mesh) }, (_, t) =>
      [0, 1, 2].every((k) => sheet[cellOf[mesh.triangles[3 * t + k]]] === wanted) ? 1 : 0,
    );
  return { inner: on(inner), outer: on(outer) };
}

/** How far behind each vertex another one lies that faces away, mm, NaN where none does; `inward` where the normals point into the wall. */
function depthBehind({ positions: p }: Mesh, normals: Float64Array): { depth: Float64Array; inward: boolean } {
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
  const behind = new Float64Array(count).fill(NaN);
  const before = new Float64Array(count).fill(NaN);
  let sum = 0;
  for (let v = 0; v < count; v++) {
    const cell = cellOf(v);
    for (let step = 0; step < 27; step++) {
      const other = cell + (((step / 9) | 0) - 1) * cells[0] * cells[1] + ((((step / 3) | 0) % 3) - 1) * cells[0] + (step % 3) - 1;
      for (let w = head[other]; w >= 0; w = next[w]) {
        if (cosine(normals, v, w) > d.backToBack) continue;
        const dx = p[3 * w] - p[3 * v];
        const dy = p[3 * w + 1] - p[3 * v + 1];
        const dz = p[3 * w + 2] - p[3 * v + 2];
        const along = normals[3 * v] * dx + normals[3 * v + 1] * dy + normals[3 * v + 2] * dz;
        const deep = Math.abs(along);
        if (deep < d.thinnest || deep > d.thickest) continue;
        if (dx * dx + dy * dy + dz * dz - along * along > Math.max(d.asideLeast, d.aside * deep) ** 2) continue;
        const side = along < 0 ? behind : before;
        if (!(side[v] < deep)) side[v] = deep;
      }
    }
    sum += (Number.isNaN(behind[v]) ? 0 : 1) - (Number.isNaN(before[v]) ? 0 : 1);
  }
  return sum >= 0 ? { depth: behind, inward: false } : { depth: before, inward: true };
}

/** One byte a vertex: 1 where a walk of at most `reach` mm along the surface leads to where it faces the other way. */
function atRim({ positions: p }: Mesh, normals: Float64Array, { offsets, items }: Rows, reach: number): Uint8Array {
  const count = normals.length / 3;
  const rim = new Uint8Array(count);
  const seenBy = new Int32Array(count).fill(-1);
  const way = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    const reached = [v];
    seenBy[v] = v;
    way[v] = 0;
    for (let head = 0; head < reached.length && rim[v] === 0; head++) {
      const a = reached[head];
      for (let i = offsets[a]; i < offsets[a + 1]; i++) {
        const b = items[i];
        if (seenBy[b] === v) continue;
        const walked = way[a] + Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
        if (walked > reach) continue;
        seenBy[b] = v;
        way[b] = walked;
        reached.push(b);
        if (cosine(normals, v, b) < SHEETS_DEFAULTS.backToBack) rim[v] = 1;
      }
    }
  }
  return rim;
}

const cosine = (n: Float64Array, a: number, b: number): number => n[3 * a] * n[3 * b] + n[3 * a + 1] * n[3 * b + 1] + n[3 * a + 2] * n[3 * b + 2];

/** Numbers all that is joined to some vertices as these are, ring by ring; returns how many there are then. */
function spread(from: number[], sheet: Int32Array, { offsets, items }: Rows, joined: (a: number, b: number) => boolean): number {
  const queue = from;
  for (const v of queue) {
    for (let i = offsets[v]; i < offsets[v + 1]; i++) {
      const w = items[i];
      if (sheet[w] >= 0 || !joined(v, w)) continue;
      sheet[w] = sheet[v];
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
function takeInPatches(sheet: Int32Array, { offsets, items }: Rows): void {
  const seen = new Uint8Array(sheet.length);
  for (let start = 0; start < sheet.length; start++) {
    if (sheet[start] >= 0 || seen[start] === 1) continue;
    seen[start] = 1;
    const patch = [start];
    const touched = new Set<number>();
    for (const v of patch) {
      for (let i = offsets[v]; i < offsets[v + 1]; i++) {
        const w = items[i];
        if (sheet[w] >= 0 && seen[w] === 0) touched.add(sheet[w]);
        else if (seen[w] === 0) {
          seen[w] = 1;
          patch.push(w);
        }
      }
    }
    const [only] = touched;
    if (touched.size === 1) for (const v of patch) sheet[v] = only;
  }
}
