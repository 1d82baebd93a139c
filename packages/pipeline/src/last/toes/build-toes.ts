import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { cutToes } from './cut-toes.js';
import { evenRings } from './even-rings.js';
import { columnOf } from './toe-frame.js';
import type { ToeRings } from './toe-rings.js';
import { toeRings } from './toe-rings.js';
import type { ToeShell } from './toe-shell.js';
import { ringAt, shellPoint } from './toe-shell.js';
import { blendZone, partsOf, risingAngles } from './toe-zone.js';

export const BUILD = {
  /** Mean length over which the foot's own surface becomes the shell, mm, and the shares of it that are tried. */
  zone: 20,
  tries: [1, 0.8, 0.65, 0.5, 0.35],
  /** Vertices this near to the cut are put on it, as a share of the mean edge. */
  snap: 0.25,
  /** Most that the rim may run back round the core before the cut is tried nearer to the ball, radians. */
  runBack: 0.12,
} as const;

export interface BuiltToes {
  readonly mesh: Mesh;
  /** Of each vertex the one of the body that it was, or −1. */
  readonly from: Int32Array;
  /** Of each vertex with `from` −1 that lies on an edge of the body, that edge's ends; −1 elsewhere. Two a vertex. */
  readonly ends: Int32Array;
}

/**
 * The body with everything ahead of the cut made anew on the shell. Vertices behind the shell's start stay bit for bit, those
 * between go over to it smoothly.
 *
 * @param length mean length of the toe part, mm
 * @param edge about how far apart new vertices lie, mm
 * @param right whether medial lies on +Y
 * @returns null where no section between ball and toes is in one piece
 */
export function buildToes(mesh: Mesh, shell: ToeShell, { length, edge, right }: { readonly length: number; readonly edge: number; readonly right: boolean }): BuiltToes | null {
  const parts = partsOf(mesh.positions, shell);
  for (const share of BUILD.tries) {
    const cut = Math.min(0.5, BUILD.zone / length) * share;
    const heights = parts.map((part) => (part - cut) * length);
    const kept = cutToes(mesh, heights, BUILD.snap * edge);
    if (kept.rims.length !== 1 || kept.rims[0].length < 12) continue;
    const rim = right ? kept.rims[0].slice().reverse() : kept.rims[0];
    const angles = risingAngles(rimAngles(mesh, shell, cut, heights, rim, kept.ends), BUILD.runBack);
    if (angles === null) continue;
    const positions = new Float64Array(mesh.positions.length + 1.5 * kept.ends.length);
    positions.set(mesh.positions);
    blendZone(positions, { parts, shell, cut });
    rim.forEach((v, k) => shellPoint(shell, ringAt(shell, cut), angles[k], positions, 3 * v));
    const rings = evenRings(toeRings(shell, ringAt(shell, cut), angles, edge, right), Float64Array.from(rim.flatMap((v) => [...positions.subarray(3 * v, 3 * v + 3)])));
    return joined(mesh, positions, kept.triangles, rim, kept.ends, rings);
  }
  return null;
}

/** The column of each vertex of the rim. */
function rimAngles(mesh: Mesh, shell: ToeShell, cut: number, heights: Float64Array, rim: readonly number[], ends: Uint32Array): Float64Array {
  const { positions: p } = mesh;
  const count = heights.length;
  return Float64Array.from(rim, (v) => {
    if (v < count) return columnOf(shell.frame, cut, p[3 * v + 1], p[3 * v + 2])[0];
    const a = ends[2 * (v - count)];
    const b = ends[2 * (v - count) + 1];
    const s = heights[a] / (heights[a] - heights[b]);
    return columnOf(shell.frame, cut, p[3 * a + 1] + s * (p[3 * b + 1] - p[3 * a + 1]), p[3 * a + 2] + s * (p[3 * b + 2] - p[3 * a + 2]))[0];
  });
}

/** Puts the kept surface and the rings together, without the vertices that no triangle uses any more. */
function joined(mesh: Mesh, positions: Float64Array, kept: Uint32Array, rim: readonly number[], ends: Uint32Array, rings: ToeRings): BuiltToes {
  const before = mesh.positions.length / 3;
  const place = new Int32Array(positions.length / 3).fill(-1);
  const used = new Uint8Array(place.length);
  for (let h = 0; h < kept.length; h++) used[kept[h]] = 1;
  let count = 0;
  for (let v = 0; v < place.length; v++) if (used[v] === 1) place[v] = count++;
  const ringVertices = rings.positions.length / 3;
  const out = new Float64Array(3 * (count + ringVertices));
  const from = new Int32Array(count + ringVertices).fill(-1);
  const onEdge = new Int32Array(2 * from.length).fill(-1);
  for (let v = 0; v < place.length; v++) {
    if (place[v] < 0) continue;
    for (let k = 0; k < 3; k++) out[3 * place[v] + k] = positions[3 * v + k];
    if (v < before) from[place[v]] = v;
    else for (let k = 0; k < 2; k++) onEdge[2 * place[v] + k] = ends[2 * (v - before) + k];
  }
  out.set(rings.positions, 3 * count);
  const triangles = new Uint32Array(kept.length + rings.triangles.length);
  for (let h = 0; h < kept.length; h++) triangles[h] = place[kept[h]];
  for (let h = 0; h < rings.triangles.length; h++) {
    const v = rings.triangles[h];
    triangles[kept.length + h] = v < rim.length ? place[rim[v]] : count + v - rim.length;
  }
  return { mesh: { positions: out, triangles }, from, ends: onEdge };
}
