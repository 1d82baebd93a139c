import { length2 } from '@cast-to-last/geometry/numerics/lengths';
import type { Extent } from './extent.js';
import type { FairSurface } from './fair-surface.js';
import { FAIR } from './fair-surface.js';
import type { InspectionSurface } from './inspection-surface.js';

export const BESIDE = {
  /** Two rings of so many places each, the outer so many mm beyond the inner and turned by half a step. */
  directions: 8,
  outer: 8,
  /** Radius of what is measured at a place: half the mark's width, within these bounds, mm. */
  leastRadius: 4,
  mostRadius: 13,
  /** Margin round it that steers the fair surface neither, mm. */
  margin: 4,
  /** Share of the radius over which the height is averaged. */
  core: 0.4,
  /** A place is taken if a vertex lies this near, mm. */
  near: 4,
  /** Fewer places say nothing. */
  leastPlaces: 3,
  /** What so many of them stay below counts: the others may lie on marks not yet found, ridges or the seam. */
  share: 0.75,
} as const;

/**
 * How far the ground beside a mark stands off where it is measured as the mark was, mm: the height, or depth, of sound
 * surface over the fair surface that leaves out a hole as wide as the mark, at places beside it; three quarters of them
 * stay below it. A mark stands off by much more than that; a foot's own height or hollow has others like it near. NaN where
 * too few places are sound.
 */
export function groundBeside(surface: InspectionSurface, fair: FairSurface, extent: Extent): number {
  const radius = Math.min(BESIDE.mostRadius, Math.max(BESIDE.leastRadius, extent.width / 2));
  const away = extent.width / 2 + extent.margin + radius + 1;
  const { vertices, flat } = fair.lookAround(extent.centreVertex, 1.1 * (away + BESIDE.outer) + BESIDE.near);
  const own = extent.vertices.filter((v) => fair.masked[v] === 0);
  for (const v of own) fair.masked[v] = 1;
  const heights: number[] = [];
  for (let k = 0; k < 2 * BESIDE.directions; k++) {
    const isOuter = k >= BESIDE.directions;
    const turn = (2 * Math.PI * (isOuter ? k + 0.5 : k)) / BESIDE.directions;
    const r = isOuter ? away + BESIDE.outer : away;
    const i = nearestOnFlat(flat, r * Math.cos(turn), r * Math.sin(turn));
    if (i < 0 || surface.unsure[vertices[i]] === 1 || fair.masked[vertices[i]] === 1) continue;
    const height = heightAt(fair, vertices[i], radius);
    if (!Number.isNaN(height)) heights.push(Math.abs(height));
  }
  for (const v of own) fair.masked[v] = 0;
  if (heights.length < BESIDE.leastPlaces) return NaN;
  heights.sort((a, b) => a - b);
  const at = BESIDE.share * (heights.length - 1);
  const below = Math.floor(at);
  return heights[below] + (at - below) * (heights[Math.min(below + 1, heights.length - 1)] - heights[below]);
}

/** The place nearest to (u, v) on the flat; −1 where none is near. */
function nearestOnFlat(flat: Float64Array, u: number, v: number): number {
  let best = -1;
  let least: number = BESIDE.near;
  for (let i = 0; 2 * i < flat.length; i++) {
    const d = length2(flat[2 * i] - u, flat[2 * i + 1] - v);
    if (d >= least) continue;
    least = d;
    best = i;
  }
  return best;
}

/** Mean height round a vertex over the fair surface that leaves out a hole of this radius there, mm; NaN where a mark covers it. */
function heightAt(fair: FairSurface, vertex: number, radius: number): number {
  const half = radius + BESIDE.margin + FAIR.ring;
  const around = fair.lookAround(vertex, 1.08 * half);
  const mask = new Uint8Array(around.distance.length);
  for (let i = 0; i < mask.length; i++) mask[i] = around.distance[i] <= radius + BESIDE.margin ? 1 : 0;
  const { heights } = fair.heightsOver(around, mask, half);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < mask.length; i++) {
    if (around.distance[i] >= BESIDE.core * radius || fair.masked[around.vertices[i]] === 1) continue;
    sum += heights[i];
    count++;
  }
  return count === 0 ? NaN : sum / count;
}
