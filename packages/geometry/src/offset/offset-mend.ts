import { compactVertices, connectedPieces, keepTriangles, pieceAreas } from '../mesh/components.js';
import { fillHoles } from '../repair/fill-holes.js';
import type { Mesh } from '../mesh/mesh.js';
import { triangleCount, vertexCount } from '../mesh/mesh.js';
import type { OffsetPlacer } from './offset-points.js';
import { partBays } from './part-bays.js';
import { selfCrossings } from '../crossings/self-crossings.js';
import { BOUNDARY, boundaryLoops, twins, vertexTriangles } from '../mesh/topology.js';

export interface MendedOffset {
  readonly mesh: Mesh;
  /** The opening in loop order; null where the surface is closed. */
  readonly opening: Uint32Array | null;
  /** The vertex of the mesh before that each vertex is; −1 for new ones that lie at the distance, −2 for those that do not. */
  readonly from: Int32Array;
  /** Area that was cut off with what is too thin, over the area that is left. */
  readonly cutOff: number;
  /** Triangles that still cross others. */
  readonly crossings: number;
}

export const OFFSET_MEND = {
  /** Rings of triangles that are taken out round lost vertices; one more each time the mended surface still crosses itself. */
  rings: 1,
  attempts: 4,
} as const;

/**
 * The surface without its lost vertices and what crosses there: holes are closed, new vertices brought to the distance.
 *
 * @param open whether the surface has an opening that stays: its longest boundary loop
 * @param suspect one byte a vertex: crossings are sought where it is 1, and on new surface
 */
export function mendOffset(mesh: Mesh, lost: Uint8Array, suspect: Uint8Array, placer: OffsetPlacer, open: boolean): MendedOffset {
  let gone = lost;
  for (let attempt = 1; ; attempt++) {
    const mended = closeUp(mesh, widened(mesh, gone, OFFSET_MEND.rings), placer, open);
    const { triangles } = mended.mesh;
    const among = new Uint8Array(triangleCount(mended.mesh));
    for (let h = 0; h < triangles.length; h++) {
      const from = mended.from[triangles[h]];
      if (from < 0 || suspect[from] === 1) among[(h / 3) | 0] = 1;
    }
    const crossing = selfCrossings(mended.mesh, among);
    const crossings = crossing.reduce((sum, c) => sum + c, 0);
    if (crossings === 0 || attempt === OFFSET_MEND.attempts) return { ...mended, crossings };
    gone = widened(mesh, gone, attempt === 1 ? 0 : 1).slice();
    for (let h = 0; h < triangles.length; h++) {
      const from = mended.from[triangles[h]];
      if (crossing[(h / 3) | 0] === 1 && from >= 0) gone[from] = 1;
    }
  }
}

/** Takes in the vertices that share a triangle with a marked one, ring by ring. */
function widened({ triangles }: Mesh, marked: Uint8Array, rings: number): Uint8Array {
  let wide = marked;
  for (let ring = 0; ring < rings; ring++) {
    const next = wide.slice();
    for (let h = 0; h < triangles.length; h += 3) {
      if (wide[triangles[h]] + wide[triangles[h + 1]] + wide[triangles[h + 2]] === 0) continue;
      for (let k = 0; k < 3; k++) next[triangles[h + k]] = 1;
    }
    wide = next;
  }
  return wide;
}

/** The largest piece of what is left without the vertices that are gone, its holes closed at the distance. */
function closeUp(mesh: Mesh, gone: Uint8Array, placer: OffsetPlacer, open: boolean): Omit<MendedOffset, 'crossings'> {
  const kept = largestWithout(mesh, gone);
  const loops = boundaryLoops(kept.mesh, kept.twin);
  const rim = open ? longest(kept.mesh, loops) : null;
  const wasRim = onBoundary(mesh);
  const parts = rim === null ? [] : partBays(kept.mesh.positions, rim, (v) => wasRim[kept.from[v]] === 1);
  const opening = parts[0] ?? null;
  const holes = [...loops.filter((loop) => loop !== rim), ...parts.slice(1)];
  if (holes.length === 0) return { mesh: kept.mesh, from: kept.from, cutOff: kept.cutOff, opening };
  const filled = fillHoles(kept.mesh, vertexTriangles(kept.mesh), holes, Infinity);
  const from = new Int32Array(vertexCount(filled.mesh)).fill(-1);
  from.set(kept.from);
  for (let v = filled.firstVertex; v < from.length; v++) from[v] = placer.approach(filled.mesh.positions, v) ? -1 : -2;
  return { mesh: filled.mesh, opening, from, cutOff: kept.cutOff };
}

function largestWithout(mesh: Mesh, gone: Uint8Array): { mesh: Mesh; twin: Int32Array; from: Int32Array; cutOff: number } {
  const twin = twins(mesh);
  const keep = new Uint8Array(triangleCount(mesh)).fill(1);
  for (let h = 0; h < mesh.triangles.length; h++) if (gone[mesh.triangles[h]] === 1) keep[(h / 3) | 0] = 0;
  if (!keep.includes(0)) return { mesh, twin, from: Int32Array.from({ length: vertexCount(mesh) }, (_, v) => v), cutOff: 0 };
  if (!keep.includes(1)) return { mesh: { positions: new Float64Array(0), triangles: new Uint32Array(0) }, twin: new Int32Array(0), from: new Int32Array(0), cutOff: 0 };
  const pieces = connectedPieces(twin, keep);
  const areas = pieceAreas(mesh, pieces);
  const main = areas.reduce((best, area, i) => (area > areas[best] ? i : best), 0);
  for (let t = 0; t < keep.length; t++) if (pieces.piece[t] !== main) keep[t] = 0;
  const { triangles, twin: pairs } = keepTriangles(mesh.triangles, twin, keep);
  const used = new Uint8Array(vertexCount(mesh));
  for (const v of triangles) used[v] = 1;
  const from: number[] = [];
  for (let v = 0; v < used.length; v++) if (used[v] === 1) from.push(v);
  return { mesh: compactVertices({ positions: mesh.positions, triangles }), twin: pairs, from: Int32Array.from(from), cutOff: areas.reduce((sum, area) => sum + area, 0) / areas[main] - 1 };
}

/** One byte a vertex: 1 on the boundary. */
function onBoundary(mesh: Mesh): Uint8Array {
  const on = new Uint8Array(vertexCount(mesh));
  const pairs = twins(mesh);
  for (let h = 0; h < pairs.length; h++) if (pairs[h] === BOUNDARY) on[mesh.triangles[h]] = 1;
  return on;
}

/** The longest of some loops, by length of line. */
function longest({ positions: p }: Mesh, loops: readonly Uint32Array[]): Uint32Array | null {
  let best: Uint32Array | null = null;
  let most = 0;
  for (const loop of loops) {
    let length = 0;
    for (let i = 0; i < loop.length; i++) {
      const a = 3 * loop[i];
      const b = 3 * loop[(i + 1) % loop.length];
      length += Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
    }
    if (length > most) {
      most = length;
      best = loop;
    }
  }
  return best;
}
