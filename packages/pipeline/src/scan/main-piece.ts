import { connectedPieces, keepTriangles, pieceAreas } from '@cast-to-last/geometry/mesh/components';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SurfaceSamples } from '@cast-to-last/geometry/remeshing/sample-surface';
import { sampleSurface } from '@cast-to-last/geometry/remeshing/sample-surface';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { NOT_A_FOOT, principalAxes, sortedAlong, spanAlong, thickness } from './not-a-foot.js';

export const MAIN_PIECE = {
  /** Pieces lie about where, along a principal axis, a stretch longer than this share of the whole has no points. */
  gap: 0.05,
  /** Points belong together where they share a grid cell or lie in neighbouring ones; edge of a cell over the mean spacing. */
  cell: 4,
  /** How many pieces are looked at, and the least share of the greatest area that they must have. */
  candidates: 4,
  leastShare: 0.05,
  /** With less than this share of the whole area in it, the piece is a crumb of a surface torn into crumbs. */
  leastOfWhole: 0.1,
  samples: 2000,
} as const;

const isFlat = (points: Float64Array): boolean => thickness(points) < NOT_A_FOOT.flatThickness;

/** Whether points of a surface leave gaps, as pieces beside a foot do. */
export function isScattered(points: Float64Array): boolean {
  return principalAxes(points).some((axis) => {
    const along = sortedAlong(points, axis);
    const widest = MAIN_PIECE.gap * (along[along.length - 1] - along[0]);
    return along.some((at, n) => n > 0 && at - along[n - 1] > widest);
  });
}

/** The pieces whose areas are close to the greatest, greatest first. */
function greatest(areas: ArrayLike<number>): number[] {
  const order = Uint32Array.from({ length: areas.length }, (_, i) => i).sort((a, b) => areas[b] - areas[a]);
  return [...order.subarray(0, MAIN_PIECE.candidates)].filter((piece) => areas[piece] >= MAIN_PIECE.leastShare * areas[order[0]]);
}

/**
 * The samples of the piece with the most area that is no flat patch of table, pieces told apart by the room between
 * them; of the greatest of all where all are flat. Quick, but does not tell a foot from a table close under it.
 */
export function mainCluster(samples: SurfaceSamples): SurfaceSamples {
  const { cluster, count } = clusters(samples);
  const sizes = new Float64Array(count);
  for (const c of cluster) sizes[c]++;
  const only = (array: Float64Array, piece: number): Float64Array => array.filter((_, i) => cluster[(i / 3) | 0] === piece);
  const candidates = greatest(sizes);
  const chosen = candidates.find((piece) => !isFlat(only(samples.points, piece))) ?? candidates[0];
  return {
    points: only(samples.points, chosen),
    normals: only(samples.normals, chosen),
    area: (samples.area * sizes[chosen]) / cluster.length,
  };
}

/** The cluster of each point, and how many clusters there are. */
function clusters({ points, area }: SurfaceSamples): { cluster: Int32Array; count: number } {
  const n = points.length / 3;
  const cell = MAIN_PIECE.cell * Math.sqrt(area / n);
  const from = [[1, 0, 0], [0, 1, 0], [0, 0, 1]].map((axis) => spanAlong(points, axis, 0).from);
  const at = (v: number, k: number): number => Math.floor((points[3 * v + k] - from[k]) / cell);
  const key = (x: number, y: number, z: number): string => `${x} ${y} ${z}`;
  const cells = new Map<string, number[]>();
  for (let v = 0; v < n; v++) {
    const where = key(at(v, 0), at(v, 1), at(v, 2));
    const there = cells.get(where);
    if (there === undefined) cells.set(where, [v]);
    else there.push(v);
  }
  const cluster = new Int32Array(n).fill(-1);
  let count = 0;
  for (const first of cells.values()) {
    if (cluster[first[0]] >= 0) continue;
    const queue = [first];
    for (const v of first) cluster[v] = count;
    for (let members = queue.pop(); members !== undefined; members = queue.pop()) {
      const [x, y, z] = [0, 1, 2].map((k) => at(members[0], k));
      for (let near = 0; near < 27; near++) {
        const there = cells.get(key(x + (near % 3) - 1, y + (Math.floor(near / 3) % 3) - 1, z + Math.floor(near / 9) - 1));
        if (there === undefined || cluster[there[0]] >= 0) continue;
        for (const v of there) cluster[v] = count;
        queue.push(there);
      }
    }
    count++;
  }
  return { cluster, count };
}

/**
 * The connected piece with the greatest area that is no flat patch of table; the greatest of all where all are flat, and
 * the whole mesh where it is torn into crumbs. Exact, but welds the whole mesh.
 */
export function mainPiece(mesh: Mesh): Mesh {
  const welded = weld(mesh).mesh;
  const twin = twins(welded);
  const pieces = connectedPieces(twin);
  const areas = pieceAreas(welded, pieces);
  const cut = (piece: number): Mesh => {
    const keep = new Uint8Array(pieces.piece.length);
    for (let t = 0; t < keep.length; t++) keep[t] = pieces.piece[t] === piece ? 1 : 0;
    return { positions: welded.positions, triangles: keepTriangles(welded.triangles, twin, keep).triangles };
  };
  const candidates = greatest(areas);
  if (areas[candidates[0]] < MAIN_PIECE.leastOfWhole * areas.reduce((sum, area) => sum + area, 0)) return mesh;
  const chosen = candidates.find((piece) => !isFlat(sampleSurface(cut(piece), MAIN_PIECE.samples).points)) ?? candidates[0];
  return cut(chosen);
}
