import { median } from '@cast-to-last/geometry/numerics/median';
import { LINES } from './cross-shapes.js';
import { evidenceAt } from './cut-course.js';
import { ACROSS } from './top-map.js';

export const LINES_BESIDE = {
  /** A line may stray by so many samples from the course it is sought on. */
  within: 3,
  /** Courses beside a cut lie so many samples beyond its edges, as far as the map reaches, one every so many. */
  nearest: 20,
  every: 2,
  /** A course beside counts where so much of it lies on the map. */
  share: 0.5,
} as const;

/** A station of a cut, and the samples of its two edges: the same one where the flaps lie together. */
export interface EdgesAt {
  readonly station: number;
  readonly low: number;
  readonly high: number;
}

/** How clear lines are, as mean evidence: differences of log likelihoods. */
export interface Clearness {
  /** The two edges of the cut. */
  readonly low: number;
  readonly high: number;
  /** The middle one of like courses on that side of it where they are clearer, and where there is no cut: the cast's own texture. 0 where the map has no room for any. */
  readonly beside: number;
}

/**
 * How clear the lines along a cut are, and those along courses of the same form beside it.
 *
 * @param edges one for each station that counts, at least one
 */
export function clearnessOf(evidence: Float64Array, edges: readonly EdgesAt[]): Clearness {
  return {
    low: meanAlong(evidence, edges, ({ low }) => low) ?? 0,
    high: meanAlong(evidence, edges, ({ high }) => high) ?? 0,
    beside: Math.max(middleBeside(evidence, edges, -1), middleBeside(evidence, edges, 1)),
  };
}

/** The middle one of the courses on one side. */
function middleBeside(evidence: Float64Array, edges: readonly EdgesAt[], side: 1 | -1): number {
  const beside: number[] = [];
  for (let off: number = LINES_BESIDE.nearest; off < ACROSS; off += LINES_BESIDE.every) {
    const mean = meanAlong(evidence, edges, ({ low, high }) => (side < 0 ? low - off : high + off));
    if (mean !== null) beside.push(mean);
  }
  return beside.length === 0 ? 0 : median(Float64Array.from(beside));
}

/** Mean evidence of a seam or a step along a course; null where too little of it lies on the map. */
function meanAlong(evidence: Float64Array, edges: readonly EdgesAt[], sampleOf: (at: EdgesAt) => number): number | null {
  let sum = 0;
  let count = 0;
  for (const at of edges) {
    const sample = Math.round(sampleOf(at));
    let most = -Infinity;
    for (let j = Math.max(0, sample - LINES_BESIDE.within); j <= Math.min(ACROSS - 1, sample + LINES_BESIDE.within); j++) {
      most = Math.max(most, evidenceAt(evidence, at.station, j, LINES.seam), evidenceAt(evidence, at.station, j, LINES.step));
    }
    if (most === -Infinity) continue;
    sum += most;
    count++;
  }
  return count > LINES_BESIDE.share * edges.length ? sum / count : null;
}
