import { bounds } from '../mesh/mesh.js';
import type { Mesh } from '../mesh/mesh.js';
import type { PlaneIndex } from './plane-index.js';
import { planeIndex } from './plane-index.js';
import { nextHalfedge } from '../mesh/topology.js';

/** One curve where a plane meets a surface. */
export interface SectionCurve {
  /** x, y, z of the points in order, where the plane crosses edges. */
  readonly points: Float64Array;
  /** The triangle between point i and point i + 1 (the last one leads back to the first of a closed curve). */
  readonly triangles: Uint32Array;
  readonly closed: boolean;
}

/** A place, x, y, z, and how far from it a curve may pass. */
export interface NearPlace {
  readonly at: ArrayLike<number>;
  readonly reach: number;
}

/** The index of a mesh is made at its first section and kept as long as the mesh. */
const indices = new WeakMap<Mesh, PlaneIndex>();

/**
 * The curves where the plane normal · p = offset meets the mesh, longest first. A vertex on the plane counts as above
 * it, so every triangle that is met is met in one segment.
 *
 * @param twin halfedge twins of the mesh (`topology.twins`)
 * @param normal unit 3-vector
 * @param near where given, only curves that pass a place are sought: all those that come within `reach` of it, mesh unit
 */
export function section(mesh: Mesh, twin: Int32Array, normal: ArrayLike<number>, offset: number, near?: NearPlace): SectionCurve[] {
  let index = indices.get(mesh);
  if (index === undefined) {
    index = planeIndex(mesh, bounds(mesh.positions));
    indices.set(mesh, index);
  }
  const cut = new Cut(mesh, twin, normal, offset, index);
  const curves: SectionCurve[] = [];
  for (let b = 0; b + 1 < index.offsets.length; b++) {
    const c = 3 * b;
    const distance = normal[0] * index.centres[c] + normal[1] * index.centres[c + 1] + normal[2] * index.centres[c + 2] - offset;
    const reach = Math.abs(normal[0]) * index.halves[c] + Math.abs(normal[1]) * index.halves[c + 1] + Math.abs(normal[2]) * index.halves[c + 2];
    if (Math.abs(distance) > reach * (1 + 1e-9) + 1e-9 || (near !== undefined && isFar(index, c, near))) continue;
    for (let i = index.offsets[b]; i < index.offsets[b + 1]; i++) {
      const f = index.triangles[i];
      if (cut.isNew(f)) curves.push(cut.follow(f));
    }
  }
  return curves.sort((a, b) => b.points.length - a.points.length);
}

/** Whether a box has no place within reach. */
function isFar({ centres, halves }: PlaneIndex, c: number, { at, reach }: NearPlace): boolean {
  for (let k = 0; k < 3; k++) if (Math.abs(at[k] - centres[c + k]) > halves[c + k] + reach) return true;
  return false;
}

/** One plane through one mesh, and which of its triangles have been followed. */
class Cut {
  private readonly p: Float64Array;
  private readonly t: Uint32Array;
  private readonly twin: Int32Array;
  private readonly visited: Uint32Array;
  private readonly round: number;
  private readonly nx: number;
  private readonly ny: number;
  private readonly nz: number;
  private readonly offset: number;

  constructor(mesh: Mesh, twin: Int32Array, normal: ArrayLike<number>, offset: number, index: PlaneIndex) {
    this.p = mesh.positions;
    this.t = mesh.triangles;
    this.twin = twin;
    this.visited = index.visited;
    this.round = ++index.round;
    this.nx = normal[0];
    this.ny = normal[1];
    this.nz = normal[2];
    this.offset = offset;
  }

  /** Whether the plane meets triangle f and no curve has passed it yet. */
  isNew(f: number): boolean {
    if (this.visited[f] === this.round) return false;
    const above = +(this.height(3 * f) >= 0) + +(this.height(3 * f + 1) >= 0) + +(this.height(3 * f + 2) >= 0);
    return above === 1 || above === 2;
  }

  /** The curve through triangle `start`, with what is above the plane on its right. */
  follow(start: number): SectionCurve {
    const forwardEdges: number[] = [];
    const forwardFaces: number[] = [];
    let closed = false;
    let f = start;
    for (;;) {
      this.visited[f] = this.round;
      forwardFaces.push(f);
      const h = this.exitOf(f, true);
      forwardEdges.push(h);
      const next = this.twin[h] < 0 ? -1 : (this.twin[h] / 3) | 0;
      if (next === start) closed = true;
      if (next < 0 || this.visited[next] === this.round) break;
      f = next;
    }
    const backwardEdges: number[] = [];
    const backwardFaces: number[] = [];
    if (!closed) {
      f = start;
      for (;;) {
        const h = this.exitOf(f, false);
        backwardEdges.push(h);
        const next = this.twin[h] < 0 ? -1 : (this.twin[h] / 3) | 0;
        if (next < 0 || this.visited[next] === this.round) break;
        this.visited[next] = this.round;
        backwardFaces.push(next);
        f = next;
      }
    }
    const edges = backwardEdges.reverse().concat(forwardEdges);
    const faces = backwardFaces.reverse().concat(forwardFaces);
    const points = new Float64Array(3 * edges.length);
    for (let i = 0; i < edges.length; i++) this.crossing(edges[i], points, 3 * i);
    // Point i of a closed curve is the exit of face i, so the segment from i to i + 1 lies in face i + 1.
    const between = closed ? faces.slice(1).concat(faces[0]) : faces;
    return { points, triangles: Uint32Array.from(between), closed };
  }

  /** Signed height of the start of halfedge h over the plane. */
  private height(h: number): number {
    const i = 3 * this.t[h];
    return this.nx * this.p[i] + this.ny * this.p[i + 1] + this.nz * this.p[i + 2] - this.offset;
  }

  /** The halfedge of triangle f that the plane crosses downward (from above to below), or upward. */
  private exitOf(f: number, downward: boolean): number {
    for (let h = 3 * f; h < 3 * f + 3; h++) {
      const from = this.height(h) >= 0;
      if (from === downward && from !== this.height(nextHalfedge(h)) >= 0) return h;
    }
    return -1;
  }

  private crossing(h: number, out: Float64Array, at: number): void {
    const a = 3 * this.t[h];
    const b = 3 * this.t[nextHalfedge(h)];
    const from = this.height(h);
    const s = from / (from - this.height(nextHalfedge(h)));
    for (let k = 0; k < 3; k++) out[at + k] = this.p[a + k] + s * (this.p[b + k] - this.p[a + k]);
  }
}
