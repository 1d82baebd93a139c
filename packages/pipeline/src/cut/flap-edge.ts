import { LINES } from './cross-shapes.js';
import type { CutStation } from './cut-course.js';
import { evidenceAt } from './cut-course.js';
import { likeliestOf, wayBack } from './way-back.js';

export const FLAP_EDGE = {
  /** The edge is sought within so many samples of the cut's course. */
  within: 24,
  /** Samples that it may stray by from one station to the next, and what a sample costs, squared. */
  stray: 3,
  strayCost: 0.35,
} as const;

const WIDE = 2 * FLAP_EDGE.within + 1;

/** The sample of the edge of a flap that rides on the other, at each station of a course: the likeliest way along steps. */
export function flapEdge(evidence: Float64Array, course: readonly CutStation[]): number[] {
  const { within, stray, strayCost } = FLAP_EDGE;
  const gain = (n: number, k: number): number => Math.max(0, evidenceAt(evidence, course[n].station, course[n].sample - within + k, LINES.step) || 0);
  let best = Float64Array.from({ length: WIDE }, (_, k) => gain(0, k));
  const from: Int32Array[] = [];
  for (let n = 1; n < course.length; n++) {
    const shift = course[n].sample - course[n - 1].sample;
    const next = new Float64Array(WIDE);
    const came = new Int32Array(WIDE);
    for (let k = 0; k < WIDE; k++) {
      let most = -Infinity;
      for (let other = Math.max(0, k + shift - stray); other <= Math.min(WIDE - 1, k + shift + stray); other++) {
        const value = best[other] - strayCost * (other - k - shift) ** 2;
        if (value <= most) continue;
        most = value;
        came[k] = other;
      }
      next[k] = most + gain(n, k);
    }
    best = next;
    from.push(came);
  }
  return wayBack(from, likeliestOf(best)).map((k, n) => course[n].sample - within + k);
}
