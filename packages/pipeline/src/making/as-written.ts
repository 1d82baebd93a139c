import { compactVertices } from '@cast-to-last/geometry/components';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh';
import { twins, vertexNeighbours } from '@cast-to-last/geometry/topology';
import type { Welded } from '@cast-to-last/geometry/weld';
import { weld } from '@cast-to-last/geometry/weld';

/** Corners nearer than this are one, mm: equal 32-bit coordinates, and none that differ where a last has them. */
export const SAME = 1e-9;

export const AS_WRITTEN = {
  /** How far a corner is moved that lies on another one of a part of the surface that does not hang together there, mm; further each round. */
  nudge: 1e-3,
  rounds: 4,
} as const;

/**
 * A closed surface as a file of 32-bit coordinates holds it. Corners of one triangle that come to lie on each other are one
 * there, and what loses its area by that is gone. Where two parts of the surface touch in an edge, a reader could not tell
 * which triangles belong together: one of them is moved by a thousandth of a millimetre.
 */
export function asWritten({ positions, triangles }: Mesh): Mesh {
  let at = new Float64Array(new Float32Array(positions));
  for (let round = 1; ; round++) {
    const welded = weld({ positions: at, triangles }, SAME);
    const joined = withoutCollapsed(welded.mesh);
    if (round > AS_WRITTEN.rounds || twins(joined).every((h) => h >= 0)) return joined;
    at = apart({ positions: at, triangles }, welded, round * AS_WRITTEN.nudge);
  }
}

function withoutCollapsed(mesh: Mesh): Mesh {
  const t = mesh.triangles;
  const kept = new Uint32Array(t.length);
  let n = 0;
  for (let i = 0; i < t.length; i += 3) {
    if (t[i] === t[i + 1] || t[i + 1] === t[i + 2] || t[i + 2] === t[i]) continue;
    kept.set(t.subarray(i, i + 3), n);
    n += 3;
  }
  return n === t.length ? mesh : compactVertices({ positions: mesh.positions, triangles: kept.slice(0, n) });
}

/** Moves corners that lie on another one, and share no edge with it, towards the middle of their neighbours. */
function apart(mesh: Mesh, { vertex }: Welded, by: number): Float64Array<ArrayBuffer> {
  const { offsets, items } = vertexNeighbours(mesh);
  const out = new Float32Array(mesh.positions);
  const p = mesh.positions;
  const first = new Int32Array(vertexCount(mesh)).fill(-1);
  for (let v = 0; v < vertex.length; v++) {
    const met = first[vertex[v]];
    if (met < 0) {
      first[vertex[v]] = v;
      continue;
    }
    const around = items.subarray(offsets[v], offsets[v + 1]);
    if (around.includes(met)) continue;
    const way = [0, 1, 2].map((k) => around.reduce((sum, n) => sum + p[3 * n + k], 0) / around.length - p[3 * v + k]);
    const length = Math.hypot(...way) || 1;
    for (let k = 0; k < 3; k++) out[3 * v + k] += (by * way[k]) / length;
  }
  return new Float64Array(out);
}
