import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexAreas, vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { surfaceDeviation } from '@cast-to-last/geometry/distance/surface-deviation';
import type { SurfaceTarget } from '@cast-to-last/geometry/distance/surface-target';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';

export const DEVIATION_MAP = {
  /** How far below the lower of both tops the comparison ends, mm. */
  belowTop: 4,
  /** The flat top of a closed cast counts for so much more, mm. */
  cap: 6,
} as const;

export const REGIONS = ['toes', 'ball', 'midfoot', 'heel', 'leg'] as const;
export type Region = (typeof REGIONS)[number];

/** Signed deviations of a part of the first cast from the second, outside positive, mm; by area. */
export interface DeviationFigures {
  /** mm² that have a counterpart. */
  readonly area: number;
  readonly median: number;
  /** 95 % of the area deviates by no more, either way. */
  readonly p95: number;
  readonly rms: number;
}

export interface DeviationMap {
  /** For each vertex of the first cast; NaN where the second has no counterpart. */
  readonly deviation: Float64Array;
  /** Height up to which the casts were compared, mm. */
  readonly upTo: number;
  readonly overall: DeviationFigures | null;
  readonly regions: readonly (DeviationFigures & { readonly region: Region })[];
}

/** Shares of foot length along the foot at which parts end, and the height at which the leg begins. */
function regionOf(x: number, z: number, footLength: number): Region {
  if (z > 0.27 * footLength) return 'leg';
  if (x > 0.82 * footLength) return 'toes';
  if (x > 0.6 * footLength) return 'ball';
  return x > 0.3 * footLength ? 'midfoot' : 'heel';
}

/** Height up to which a cast is whole: the lowest point of its top edge, or just below its closed top. */
function topOf(mesh: Mesh, twin?: Int32Array): number {
  const p = mesh.positions;
  let edge = Infinity;
  for (const loop of boundaryLoops(mesh, twin)) {
    const heights = Array.from(loop, (v) => p[3 * v + 2]);
    const lowest = heights.reduce((least, z) => Math.min(least, z), Infinity);
    // Small holes that repair left are no top.
    if (loop.length >= 12) edge = Math.min(edge, lowest);
  }
  if (edge < Infinity) return edge;
  let top = -Infinity;
  for (let i = 2; i < p.length; i += 3) if (p[i] > top) top = p[i];
  return top - DEVIATION_MAP.cap;
}

/** @param first laid on the second, in the second's foot frame */
export function deviationMap(first: Mesh, second: SurfaceTarget, footLength: number): DeviationMap {
  const upTo = Math.min(topOf(first), topOf(second.mesh, second.twin)) - DEVIATION_MAP.belowTop;
  const deviation = surfaceDeviation(first.positions, vertexNormals(first), second);
  const p = first.positions;
  for (let v = 0; v < deviation.length; v++) if (p[3 * v + 2] > upTo) deviation[v] = NaN;
  const areas = vertexAreas(first);
  const by = new Map<Region, number[]>(REGIONS.map((r) => [r, []]));
  const all: number[] = [];
  for (let v = 0; v < deviation.length; v++) {
    if (Number.isNaN(deviation[v])) continue;
    all.push(v);
    by.get(regionOf(p[3 * v], p[3 * v + 2], footLength))?.push(v);
  }
  const regions = REGIONS.flatMap((region) => {
    const figures = figuresOf(by.get(region) ?? [], deviation, areas);
    return figures === null ? [] : [{ region, ...figures }];
  });
  return { deviation, upTo, overall: figuresOf(all, deviation, areas), regions };
}

function figuresOf(vertices: readonly number[], deviation: Float64Array, areas: Float64Array): DeviationFigures | null {
  const area = vertices.reduce((sum, v) => sum + areas[v], 0);
  if (!(area > 0)) return null;
  return {
    area,
    median: quantile(vertices, (v) => deviation[v], areas, area / 2),
    p95: quantile(vertices, (v) => Math.abs(deviation[v]), areas, 0.95 * area),
    rms: Math.sqrt(vertices.reduce((sum, v) => sum + areas[v] * deviation[v] ** 2, 0) / area),
  };
}

/** The value below which vertices of so much area lie. */
function quantile(vertices: readonly number[], value: (v: number) => number, areas: Float64Array, upTo: number): number {
  const order = Uint32Array.from(vertices).sort((a, b) => value(a) - value(b));
  let sum = 0;
  for (const v of order) {
    sum += areas[v];
    if (sum >= upTo) return value(v);
  }
  return value(order[order.length - 1]);
}
