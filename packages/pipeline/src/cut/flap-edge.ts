import type { CutStation } from './cut-course.js';
import { laidFlat } from './flap-step.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';
import { likeliestOf, wayBack } from './way-back.js';

export const FLAP_EDGE = {
  /** The edge is sought within so many samples of the cut's course. */
  within: 24,
  /** Samples that it may stray by from one station to the next, and what a sample costs, squared. */
  stray: 3,
  strayCost: 0.35,
  /** What a face counts that falls by the whole height of the step. */
  face: 8,
  /** The shortest face that is looked for, and how far beside it the section says which way is up, mm. */
  shortest: 2,
  beside: 6,
} as const;

const WIDE = 2 * FLAP_EDGE.within + 1;

/**
 * The sample in the middle of the face at the edge of a flap that rides on the other, at each station of a course: the
 * likeliest way along what falls most within a face's own length. A face as high as a wall takes millimetres of the section,
 * and its two ends look like edges, too.
 *
 * @param stands how much higher the +y flap stands, mm; null where that is not known
 */
export function flapEdge(map: TopMap, course: readonly CutStation[], stands: readonly (number | null)[]): number[] {
  const { within, stray, strayCost } = FLAP_EDGE;
  const up = Math.sign(stands.reduce<number>((sum, height) => sum + (height ?? 0), 0));
  const gain = (n: number, k: number): number => fallAt(map, course[n].station, course[n].sample - within + k, up, Math.abs(stands[n] ?? 0));
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

/** What a face with its middle at a sample counts that stands `height` mm high, +y up where `up` is 1. */
function fallAt(map: TopMap, station: number, sample: number, up: number, height: number): number {
  const { shortest, beside, face } = FLAP_EDGE;
  const length = Math.max(shortest, height);
  const half = Math.round(length / 2 / TOP_MAP.step);
  const reach = half + Math.round(beside / TOP_MAP.step);
  const flat = laidFlat(map, station, sample, reach);
  if (flat === null) return 0;
  return Math.max(0, (face * up * (flat[2 * (reach + half) + 1] - flat[2 * (reach - half) + 1])) / length);
}
