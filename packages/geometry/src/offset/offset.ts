import { blurredNormals } from '../smoothing/blurred-normals.js';
import { surfaceTree } from '../distance/bvh.js';
import { cellsWith, coarsen } from '../remeshing/coarsen.js';
import { lowPass } from '../smoothing/low-pass.js';
import type { Mesh } from '../mesh/mesh.js';
import { triangleCount, vertexCount } from '../mesh/mesh.js';
import { mendOffset } from './offset-mend.js';
import type { OffsetPoints } from './offset-points.js';
import { OffsetPlacer, offsetPoints } from './offset-points.js';
import { meanEdgeLength, triangleNormals, vertexNormals } from '../mesh/quantities.js';
import { splitLongEdges } from '../remeshing/split-long-edges.js';
import type { Rows } from '../mesh/topology.js';
import { BOUNDARY, twins, vertexNeighbours } from '../mesh/topology.js';
import { squaredDistance } from '../numerics/lengths.js';

export const OFFSET = {
  /** Noise and texture finer than this are taken off the surface before it is moved, off its normals after, mm (standard deviation). */
  blur: 1.2,
  normalBlur: 2,
  /** Where normals differ from the blurred ones by more than this the surface is creased and stays as it was scanned. */
  creaseDeg: 10,
  /** A mesh with shorter edges is first brought to the spacing, mm. */
  finest: { edge: 0.75, spacing: 0.9 },
  /** Edges that grow by more than this share and beyond this times the mean length are halved; rounds of that. */
  growth: 1.4,
  longest: 1.5,
  rounds: 4,
  /** A triangle that comes to face away from its corners' normals by more than this is given up (cosine). */
  turned: 0.3,
} as const;

export interface Offset {
  readonly mesh: Mesh;
  /** The opening in loop order, surface on the left; null where the surface is closed. */
  readonly opening: Uint32Array | null;
  /** One byte a vertex: 1 where it comes from a marked vertex, or closes a gap without lying at the distance. */
  readonly filled: Uint8Array;
  /** Triangles that cross others in spite of all; 0 as a rule. */
  readonly crossings: number;
  /** Area that was cut off because what joins it is too thin, over the area that is left. */
  readonly cutOff: number;
}

/**
 * The surface at a distance inside a surface: every point of it has that distance to the nearest point of the surface.
 * Under a valley it is rounded with the distance as radius; what is thinner than twice the distance is gone. It does not
 * cross itself, and an opening (the longest boundary loop) stays open where it is.
 *
 * @param mesh manifold, outward, one piece
 * @param filled one byte a vertex, handed on
 * @param distance mm, more than 0
 */
export function offsetInward(mesh: Mesh, filled: Uint8Array, distance: number): Offset {
  const even = evenedOut(mesh, filled);
  const twin = twins(even.mesh);
  const neighbours = vertexNeighbours(even.mesh);
  const smooth = withValleys(even.mesh, lowPass(even.mesh, OFFSET.blur, twin, neighbours), neighbours);
  const sharp = vertexNormals(smooth);
  const placer = new OffsetPlacer(surfaceTree(smooth), sharp, distance);
  const points = offsetPoints(placer, sharp, blurredNormals(smooth, OFFSET.normalBlur, neighbours), neighbours);
  loseTurned(smooth, points);
  const split = splitStretched(smooth, points, placer);
  const made = new Uint8Array(vertexCount(split.mesh));
  made.set(even.filled);
  for (let v = even.filled.length; v < made.length; v++) {
    const i = 2 * (v - even.filled.length);
    made[v] = made[split.ends[i]] & made[split.ends[i + 1]];
  }
  const mended = mendOffset(split.mesh, split.lost, split.suspect, placer, twin.includes(BOUNDARY));
  const { mesh: inner, opening, from, crossings, cutOff } = mended;
  return { mesh: inner, opening, filled: Uint8Array.from(from, (v) => (v >= 0 ? made[v] : v === -1 ? 0 : 1)), crossings, cutOff };
}

/** The smooth surface, but the rough one where it is creased: there a blur fills valleys and takes edges off. */
function withValleys(rough: Mesh, smooth: Mesh, neighbours: Rows): Mesh {
  const sharp = vertexNormals(smooth);
  const blurred = blurredNormals(smooth, OFFSET.normalBlur, neighbours);
  const positions = smooth.positions.slice();
  const creased = Math.cos((OFFSET.creaseDeg * Math.PI) / 180);
  const restore = (v: number): void => {
    for (let k = 3 * v; k < 3 * v + 3; k++) positions[k] = rough.positions[k];
  };
  for (let v = 0, i = 0; i < positions.length; v++, i += 3) {
    if (sharp[i] * blurred[i] + sharp[i + 1] * blurred[i + 1] + sharp[i + 2] * blurred[i + 2] > creased) continue;
    restore(v);
    for (let j = neighbours.offsets[v]; j < neighbours.offsets[v + 1]; j++) restore(neighbours.items[j]);
  }
  return { positions, triangles: rough.triangles };
}

function evenedOut(mesh: Mesh, filled: Uint8Array): { mesh: Mesh; filled: Uint8Array } {
  if (meanEdgeLength(mesh) >= OFFSET.finest.edge) return { mesh, filled };
  const { mesh: even, cellOf } = coarsen(mesh, OFFSET.finest.spacing);
  return { mesh: even, filled: cellsWith(filled, cellOf, vertexCount(even)) };
}

/** Gives up the corners of triangles that turned over, as where the surface is bent more sharply than the distance. */
function loseTurned(from: Mesh, { positions, normals, lost, suspect }: OffsetPoints): void {
  const faces = triangleNormals({ positions, triangles: from.triangles });
  const mean = [0, 0, 0];
  for (let t = 0; t < triangleCount(from); t++) {
    const i = 3 * t;
    for (let k = 0; k < 3; k++) mean[k] = normals[3 * from.triangles[i] + k] + normals[3 * from.triangles[i + 1] + k] + normals[3 * from.triangles[i + 2] + k];
    const along = mean[0] * faces[i] + mean[1] * faces[i + 1] + mean[2] * faces[i + 2];
    if (along > OFFSET.turned * Math.hypot(mean[0], mean[1], mean[2]) * Math.hypot(faces[i], faces[i + 1], faces[i + 2])) continue;
    for (let k = 0; k < 3; k++) {
      lost[from.triangles[i + k]] = 1;
      suspect[from.triangles[i + k]] = 1;
    }
  }
}

interface SplitOffset extends Pick<OffsetPoints, 'lost' | 'suspect'> {
  readonly mesh: Mesh;
  /** The two ends of the edge that each new vertex halves. */
  readonly ends: Uint32Array;
}

/** Halves the edges that spread under a valley, new points at the distance. */
function splitStretched(from: Mesh, start: OffsetPoints, placer: OffsetPlacer): SplitOffset {
  const longest = OFFSET.longest * meanEdgeLength(from);
  let points = start;
  let triangles = from.triangles;
  let ends = new Uint32Array(0);
  for (let round = 0; round < OFFSET.rounds; round++) {
    const { positions: p, sources: s, lost } = points;
    const grew = (a: number, b: number): boolean => lost[a] + lost[b] === 0 && squaredDistance(p, a, b) > OFFSET.growth ** 2 * squaredDistance(s, a, b);
    const split = splitLongEdges({ positions: p, triangles }, longest, grew);
    if (split.ends.length === 0) break;
    points = withHalves(points, split.mesh.positions, split.ends, placer);
    triangles = split.mesh.triangles;
    ends = joined(ends, split.ends);
  }
  return { mesh: { positions: points.positions, triangles }, ends, lost: points.lost, suspect: points.suspect };
}

/** The points with those on the middles of edges, each put where the middle of its ends' directions leads, then at the distance. */
function withHalves(points: OffsetPoints, positions: Float64Array, ends: Uint32Array, placer: OffsetPlacer): OffsetPoints {
  const first = points.lost.length;
  const count = first + ends.length / 2;
  const wider = <T extends Float64Array | Uint8Array>(array: T, out: T): T => {
    out.set(array);
    return out;
  };
  const next: OffsetPoints = {
    positions,
    sources: wider(points.sources, new Float64Array(3 * count)),
    normals: wider(points.normals, new Float64Array(3 * count)),
    lost: wider(points.lost, new Uint8Array(count)),
    suspect: wider(points.suspect, new Uint8Array(count)).fill(1, first),
  };
  for (let v = first; v < count; v++) {
    const a = 3 * ends[2 * (v - first)];
    const b = 3 * ends[2 * (v - first) + 1];
    const normal = [0, 1, 2].map((k) => next.normals[a + k] + next.normals[b + k]);
    const length = Math.hypot(...normal) || 1;
    for (let k = 0; k < 3; k++) {
      next.normals[3 * v + k] = normal[k] / length;
      next.sources[3 * v + k] = (next.sources[a + k] + next.sources[b + k]) / 2;
      next.positions[3 * v + k] = next.sources[3 * v + k] - placer.distance * next.normals[3 * v + k];
    }
    if (placer.place(next, v) === 'lost') next.lost[v] = 1;
  }
  return next;
}

function joined(a: Uint32Array, b: Uint32Array): Uint32Array<ArrayBuffer> {
  const out = new Uint32Array(a.length + b.length);
  out.set(a);
  out.set(b, a.length);
  return out;
}
