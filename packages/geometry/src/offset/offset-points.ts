import type { SurfaceTree } from '../distance/bvh.js';
import { nearestOnSurface, newNearestPoint } from '../distance/bvh.js';
import type { Rows } from '../mesh/topology.js';

export const OFFSET_POINTS = {
  /** A point that lies nearer to the surface than the distance by more than this is moved or given up, mm. */
  tolerance: 0.03,
  /** Vertices whose normal differs from the blurred one by more than this are looked at, and every so many others. */
  turnDeg: 3,
  every: 16,
  /** A point is given up where the surface nearest to it lies in another direction than it came from (cosine). */
  swerve: 0.55,
  /** Rounds of moving a point to the distance: one that follows its normal, and one that closes a gap; how near counts as there, mm. */
  rounds: 3,
  approaches: 6,
  reached: 0.1,
} as const;

/** What becomes of each vertex of a surface that is moved inward. */
export interface OffsetPoints {
  /** 3 × vertices each: where it comes to lie, the point of the surface that it lies under, and the direction that it came by, turned outward. */
  readonly positions: Float64Array;
  readonly sources: Float64Array;
  readonly normals: Float64Array;
  /** One byte a vertex: 1 where no place at the distance was found near it. */
  readonly lost: Uint8Array;
  /** One byte a vertex: 1 where the surface turns sharply or the point did not stay where its normal put it. */
  readonly suspect: Uint8Array;
}

/**
 * Moves each vertex of the placer's surface inward by its distance along its blurred normal. Where the surface turns sharply, and
 * round every vertex that comes too near to any part of the surface, the points are brought to the distance exactly, or
 * given up: there the surface at that distance has another shape than the surface that it comes from.
 */
export function offsetPoints(placer: OffsetPlacer, sharp: Float64Array, blurred: Float64Array, neighbours: Rows): OffsetPoints {
  const d = OFFSET_POINTS;
  const { distance } = placer;
  const p = placer.tree.mesh.positions;
  const count = p.length / 3;
  const positions = p.map((c, i) => c - distance * blurred[i]);
  const points: OffsetPoints = { positions, sources: p.slice(), normals: blurred.slice(), lost: new Uint8Array(count), suspect: new Uint8Array(count) };
  const turned = Math.cos((d.turnDeg * Math.PI) / 180);
  const queue: number[] = [];
  const looked = new Uint8Array(count);
  const look = (v: number): void => {
    if (looked[v] === 1) return;
    looked[v] = 1;
    queue.push(v);
  };
  for (let v = 0; v < count; v++) {
    const agree = sharp[3 * v] * blurred[3 * v] + sharp[3 * v + 1] * blurred[3 * v + 1] + sharp[3 * v + 2] * blurred[3 * v + 2];
    if (agree < turned) points.suspect[v] = 1;
    if (agree < turned || v % d.every === 0) look(v);
  }
    for (let head = 0; head < queue.length; head++) {
    const v = queue[head];
    const fate = placer.place(points, v);
    if (fate === 'stays') continue;
    points.suspect[v] = 1;
    if (fate === 'lost') points.lost[v] = 1;
    for (let i = neighbours.offsets[v]; i < neighbours.offsets[v + 1]; i++) look(neighbours.items[i]);
  }
  return points;
}

/** Brings single points to the distance from a surface. */
export class OffsetPlacer {
  readonly tree: SurfaceTree;
  /** mm */
  readonly distance: number;
  private readonly faces: (t: number, x: number, y: number, z: number) => boolean;
  private readonly found = newNearestPoint();

  /** @param normals unit normal of each vertex of the tree's mesh */
  constructor(tree: SurfaceTree, normals: Float64Array, distance: number) {
    this.tree = tree;
    this.distance = distance;
    const { triangles } = tree.mesh;
    // By the corners' normals: under a sharp valley the face alone may look away from a point that it is nearest to.
    this.faces = (t, x, y, z) => {
      let along = 0;
      for (let h = 3 * t; h < 3 * t + 3; h++) along += x * normals[3 * triangles[h]] + y * normals[3 * triangles[h] + 1] + z * normals[3 * triangles[h] + 2];
      return along > 0;
    };
  }

  /** Moves point `v` to the distance; `lost` where it lies outside or under another part of the surface. */
  place({ positions, sources, normals }: OffsetPoints, v: number): 'stays' | 'moved' | 'lost' {
    const { found, distance } = this;
    const { tolerance, swerve, rounds } = OFFSET_POINTS;
    const i = 3 * v;
    for (let round = 0; ; round++) {
      nearestOnSurface(this.tree, positions[i], positions[i + 1], positions[i + 2], found);
      const x = positions[i] - found.point[0];
      const y = positions[i + 1] - found.point[1];
      const z = positions[i + 2] - found.point[2];
      const off = found.distance;
      if (off === 0 || this.faces(found.triangle, x, y, z)) return 'lost';
      if (-(x * normals[i] + y * normals[i + 1] + z * normals[i + 2]) < swerve * off) return 'lost';
      if (Math.abs(off - distance) <= tolerance) return round === 0 ? 'stays' : 'moved';
      if (round === rounds) return 'lost';
      for (let k = 0; k < 3; k++) {
        const direction = (positions[i + k] - found.point[k]) / off;
        sources[i + k] = found.point[k];
        normals[i + k] = -direction;
        positions[i + k] = found.point[k] + distance * direction;
      }
    }
  }

  /** Moves a point that lies anywhere inside to the distance; false where some rounds do not bring it there. */
  approach(positions: Float64Array, v: number): boolean {
    const { found, distance } = this;
    const i = 3 * v;
    for (let round = 0; ; round++) {
      nearestOnSurface(this.tree, positions[i], positions[i + 1], positions[i + 2], found);
      const outside = this.faces(found.triangle, positions[i] - found.point[0], positions[i + 1] - found.point[1], positions[i + 2] - found.point[2]);
      if (!outside && Math.abs(found.distance - distance) <= OFFSET_POINTS.reached) return true;
      if (found.distance === 0 || round === OFFSET_POINTS.approaches) return false;
      const scale = (outside ? -distance : distance) / found.distance;
      for (let k = 0; k < 3; k++) positions[i + k] = found.point[k] + scale * (positions[i + k] - found.point[k]);
    }
  }
}
