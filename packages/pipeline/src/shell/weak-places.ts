import type { Point } from '@cast-to-last/foot/landmarks';
import { coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { vertexAreas } from '@cast-to-last/geometry/mesh/quantities';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { boundaryLoops, vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';

export const WEAK_PLACES = {
  /** Vertex spacing at which places are sought, mm. */
  spacing: 2,
  /** A wall is thin where it has less than this share of its median. */
  thin: 0.6,
  /** Places smaller than this do not weaken a shell, mm². */
  leastArea: 20,
  /** The wall runs out towards the edge at the top; nothing is sought this near to it, mm. */
  belowTop: 8,
} as const;

/** A place where the wall of a shell is thin, or broken through. */
export interface WeakPlace {
  readonly kind: 'thin' | 'broken';
  /** Least thickness, mm; 0 where it is broken through. */
  readonly thickness: number;
  /** mm² */
  readonly area: number;
  /** In the frame of the mesh. */
  readonly at: Point;
}

/**
 * The weak places of a shell whose two sides were scanned, largest first.
 *
 * @param mesh the inner side
 * @param thickness of the wall at each vertex, mm; NaN where no other side lies before it
 * @param filled one byte a vertex: 1 where repair made the surface
 * @param wall the median thickness, mm
 */
export function weakPlaces(mesh: Mesh, thickness: Float64Array, filled: Uint8Array, wall: number): WeakPlace[] {
  const { mesh: coarse, cellOf } = coarsen(mesh, WEAK_PLACES.spacing, rememberedNeighbours(mesh));
  const count = vertexCount(coarse);
  const least = new Float64Array(count).fill(Infinity);
  const made = new Uint8Array(count);
  // A coarse vertex is thin where most of those that it stands for are: taking the least of them would widen every place.
  const thinOnes = new Uint32Array(count);
  const ones = new Uint32Array(count);
  for (let v = 0; v < cellOf.length; v++) {
    const cell = cellOf[v];
    if (thickness[v] < least[cell]) least[cell] = thickness[v];
    if (filled[v] === 1) made[cell] = 1;
    ones[cell]++;
    if (thickness[v] < WEAK_PLACES.thin * wall) thinOnes[cell]++;
  }
  const top = nearTop(coarse);
  const kinds = Array.from({ length: count }, (_, v): WeakPlace['kind'] | null => {
    if (top[v] === 1) return null;
    if (made[v] === 1 && least[v] === Infinity) return 'broken';
    return made[v] === 0 && 2 * thinOnes[v] > ones[v] ? 'thin' : null;
  });
  return gathered(coarse, kinds, least).sort((a, b) => b.area - a.area);
}

/** One byte a vertex: 1 near the boundary. */
function nearTop(mesh: Mesh): Uint8Array {
  const p = mesh.positions;
  const near = new Uint8Array(p.length / 3);
  const rim = boundaryLoops(mesh).flatMap((loop) => Array.from(loop));
  if (rim.length === 0) return near;
  const lowest = rim.reduce((z, v) => Math.min(z, p[3 * v + 2]), Infinity) - WEAK_PLACES.belowTop;
  for (let v = 0; v < near.length; v++) {
    if (p[3 * v + 2] < lowest) continue;
    if (rim.some((r) => Math.hypot(p[3 * v] - p[3 * r], p[3 * v + 1] - p[3 * r + 1], p[3 * v + 2] - p[3 * r + 2]) < WEAK_PLACES.belowTop)) near[v] = 1;
  }
  return near;
}

/** What of one kind hangs together, large enough to matter. */
function gathered(mesh: Mesh, kinds: readonly (WeakPlace['kind'] | null)[], least: Float64Array): WeakPlace[] {
  const { offsets, items } = vertexNeighbours(mesh);
  const areas = vertexAreas(mesh);
  const seen = new Uint8Array(kinds.length);
  const places: WeakPlace[] = [];
  kinds.forEach((kind, start) => {
    if (kind === null || seen[start] === 1) return;
    seen[start] = 1;
    const members = [start];
    for (const v of members) {
      for (let i = offsets[v]; i < offsets[v + 1]; i++) {
        if (seen[items[i]] === 1 || kinds[items[i]] !== kind) continue;
        seen[items[i]] = 1;
        members.push(items[i]);
      }
    }
    const area = members.reduce((sum, v) => sum + areas[v], 0);
    if (area < WEAK_PLACES.leastArea) return;
    const middle = [0, 1, 2].map((k) => members.reduce((sum, v) => sum + areas[v] * mesh.positions[3 * v + k], 0) / area);
    const thickness = kind === 'broken' ? 0 : members.reduce((t, v) => Math.min(t, least[v]), Infinity);
    places.push({ kind, thickness, area, at: [middle[0], middle[1], middle[2]] });
  });
  return places;
}
