import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices, pieceAreas } from '@cast-to-last/geometry/mesh/components';
import type { Pieces } from '@cast-to-last/geometry/mesh/components';
import { nearSurface } from '@cast-to-last/geometry/distance/near-surface';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { symmetricEigen } from '@cast-to-last/geometry/numerics/symmetric-eigen';
import { CastError } from '../errors.js';
import type { ScanKind } from '../records.js';
import { SECOND_BODY, bodies } from './second-body.js';

export const PIECES_DEFAULTS = {
  /** A piece is flat (a table) where this share of its normals' spread lies along one line. */
  flatness: 0.85,
  /** Pieces with less than this share of the area are debris, whatever their shape; so are all after this many. */
  debris: 0.003,
  looked: 12,
  /** Least share that the cast itself must hold, of the area (tables and doubled sheets left out) or of the triangles. */
  leastMain: 0.6,
  /** Loose pieces of more than this share, of the area and of the triangles, are said. */
  saidLoose: 0.03,
  /** A piece lies on the cast where this share of its points is within the distance, mm. */
  doubled: 0.9,
  doubledWithin: 1.2,
  doubledPoints: 400,
  /** A second wall spans at least this share of the cast's bounds along every axis, and leaves them by at most this, mm. */
  wallSpan: 0.7,
  wallOutside: 5,
} as const;

export interface ChosenPiece {
  /** One byte a triangle: 1 on the piece that is the cast. */
  readonly keep: Uint8Array;
  /** One byte a triangle: 1 on the outer sheet of a shell whose two sides are two pieces; null elsewhere. */
  readonly outer: Uint8Array | null;
  readonly dropped: number;
  readonly warnings: readonly string[];
}

/**
 * Finds the cast among the pieces of a scan: the largest one that is not a flat patch of table.
 *
 * @throws CastError `fragmented-scan` where no piece holds most of the surface, `several-casts` where that is because there are others like it
 */
export function chooseCast(mesh: Mesh, pieces: Pieces, kind: ScanKind): ChosenPiece {
  if (pieces.count === 1) return { keep: new Uint8Array(pieces.piece.length).fill(1), outer: null, dropped: 0, warnings: [] };
  const normals = triangleNormals(mesh);
  const areas = pieceAreas(mesh, pieces, normals);
  const d = PIECES_DEFAULTS;
  const total = areas.reduce((sum, a) => sum + a, 0);
  const bySize = Array.from(areas.keys()).sort((a, b) => areas[b] - areas[a] || a - b);
  const large = bySize.filter((i) => areas[i] >= d.debris * total);
  const flat = flatPieces(normals, pieces, large);
  const solid = large.filter((i) => !flat.has(i));
  if (pieces.count === 0) throw fragmented(0);
  let main = solid[0] ?? bySize[0];
  let outer = -1;
  const warnings: string[] = [];
  if (flat.size > 0 && !flat.has(main)) warnings.push('A flat surface beside the cast, most likely the table, was left out.');

  let others = areas.reduce((sum, a, i) => sum + (flat.has(i) ? 0 : a), 0) - areas[main];
  const apart: number[] = [];
  const rivals = solid.filter((i) => i !== main).slice(0, d.looked);
  if (rivals.length > 0) {
    const whole = only(mesh, pieces.piece, main);
    const box = bounds(whole.positions);
    for (const i of rivals) {
      const part = only(mesh, pieces.piece, i);
      const partBox = bounds(part.positions);
      if (spans(box, partBox)) {
        others -= areas[i];
        if (kind !== 'positive' && outer < 0) [main, outer] = room(partBox) < room(box) ? [i, main] : [main, i];
        else warnings.push('The scan holds a second surface that follows the cast all over; the larger one was used.');
      } else if (liesOn(whole, part)) others -= areas[i];
      else apart.push(i);
    }
  }
  const kept = areas[main] + Math.max(0, others);
  const share = flat.has(main) ? 1 : kept > 0 ? areas[main] / kept : 0;
  const keep = new Uint8Array(pieces.piece.length);
  const isFlat = Uint8Array.from({ length: pieces.count }, (_, i) => (flat.has(i) ? 1 : 0));
  let own = 0;
  let all = 0;
  for (let t = 0; t < keep.length; t++) {
    keep[t] = pieces.piece[t] === main ? 1 : 0;
    own += keep[t];
    all += isFlat[pieces.piece[t]] === 1 ? 0 : 1;
  }
  const casts = bodies(normals, pieces, areas, [main, ...apart.filter((i) => areas[i] >= SECOND_BODY.share * areas[main])]);
  const second = casts[0] === main ? casts[1] : undefined;
  if (share < d.leastMain && own < d.leastMain * all) throw second === undefined ? fragmented(share) : severalCasts(casts.length);
  const loose = Math.min(1 - share, 1 - own / Math.max(own, all));
  if (second !== undefined) {
    warnings.push(`The scan holds a second body, with ${Math.round((100 * areas[second]) / areas[main])} % of the surface of the larger one, which was taken for the cast; look whether it is the right one.`);
  } else if (loose > d.saidLoose) {
    warnings.push(`Loose pieces, ${Math.round(100 * loose)} % of the surface, were left out; look whether a part of the cast was among them.`);
  }
  const outerSheet = outer < 0 ? null : Uint8Array.from(pieces.piece, (piece) => (piece === outer ? 1 : 0));
  return { keep, outer: outerSheet, dropped: pieces.count - (outerSheet === null ? 1 : 2), warnings };
}

const fragmented = (share: number): CastError =>
  new CastError(
    'fragmented-scan',
    `The scan is in pieces: the largest holds only ${Math.round(100 * share)} % of the surface.`,
    'Let the scanning program merge all views into one surface, with one cast in the file, and export it again.',
  );

const severalCasts = (count: number): CastError =>
  new CastError(
    'several-casts',
    `The scan holds ${count === 2 ? 'two bodies' : `${count} bodies`} of about the same size, most likely ${count === 2 ? 'a pair of casts' : 'several casts'}.`,
    'Export each cast to a file of its own, and process each with its side.',
  );

/** Which of the pieces `among` are flat, from the spread of their normals. */
function flatPieces(normals: Float64Array, pieces: Pieces, among: readonly number[]): Set<number> {
  const row = new Int32Array(pieces.count).fill(-1);
  among.forEach((i, r) => {
    row[i] = r;
  });
  const spread = among.map(() => new Float64Array(9));
  for (let t = 0; t < pieces.piece.length; t++) {
    const r = row[pieces.piece[t]];
    if (r === undefined || r < 0) continue;
    const x = normals[3 * t];
    const y = normals[3 * t + 1];
    const z = normals[3 * t + 2];
    const length = Math.sqrt(x * x + y * y + z * z);
    if (length === 0) continue;
    const m = spread[r];
    m[0] += (x * x) / length;
    m[1] += (x * y) / length;
    m[2] += (x * z) / length;
    m[4] += (y * y) / length;
    m[5] += (y * z) / length;
    m[8] += (z * z) / length;
  }
  const flat = new Set<number>();
  spread.forEach((m, r) => {
    m[3] = m[1];
    m[6] = m[2];
    m[7] = m[5];
    if (symmetricEigen(m).values[0] > PIECES_DEFAULTS.flatness * (m[0] + m[4] + m[8])) flat.add(among[r]);
  });
  return flat;
}

function only(mesh: Mesh, piece: Int32Array, wanted: number): Mesh {
  let count = 0;
  for (let t = 0; t < piece.length; t++) if (piece[t] === wanted) count++;
  const triangles = new Uint32Array(3 * count);
  for (let t = 0, at = 0; t < piece.length; t++) {
    if (piece[t] !== wanted) continue;
    for (let k = 0; k < 3; k++) triangles[at++] = mesh.triangles[3 * t + k];
  }
  return compactVertices({ positions: mesh.positions, triangles });
}

/** Volume of bounds. */
const room = (b: Float64Array): number => (b[3] - b[0]) * (b[4] - b[1]) * (b[5] - b[2]);

/** Whether the bounds of a piece fill most of those of the whole, inside them: a second wall or a second layer. */
function spans(w: Float64Array, p: Float64Array): boolean {
  const d = PIECES_DEFAULTS;
  return [0, 1, 2].every(
    (k) =>
      p[k + 3] - p[k] >= d.wallSpan * (w[k + 3] - w[k]) && p[k] >= w[k] - d.wallOutside && p[k + 3] <= w[k + 3] + d.wallOutside,
  );
}

/** Whether nearly all of a piece lies on the surface of the whole. */
function liesOn(whole: Mesh, part: Mesh): boolean {
  const d = PIECES_DEFAULTS;
  const vertices = part.positions.length / 3;
  const count = Math.min(vertices, d.doubledPoints);
  const points = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    const v = 3 * Math.floor((i * vertices) / count);
    points.set(part.positions.subarray(v, v + 3), 3 * i);
  }
  const near = nearSurface(points, whole, d.doubledWithin);
  return near.reduce((sum, x) => sum + x, 0) >= d.doubled * count;
}
