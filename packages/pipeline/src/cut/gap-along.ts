import type { CutStation } from './cut-course.js';
import { fitGap } from './gap-fit.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';
import { withoutBest } from './without-best.js';

export const GAP_ALONG = {
  /** Over so many stations at least a gap must show by itself. */
  stations: 16,
  /**
   * How much better two edges must explain the stations of a gap, all taken together, than one line of whatever shape, even
   * without the stretch that bears it out best: a difference of log likelihoods, and the length of that stretch. A fingertip's
   * dent, a drip or a buckle looks like two edges over some centimetres, the gap of a cut does so all along. (Generated casts
   * of the tuning range: most gaps have 20 and more, all else 13 at most, under whatever texture.)
   */
  sure: 15,
  stretch: 30,
  /** The flaps lie together from the toe base up to where the stations speak for one line by so much, a difference of log likelihoods. */
  closed: 4,
  /** The lines at a gap's edges stand so much farther apart than the edges, mm: lips stand on the flaps (generated casts of the tuning range). */
  lips: 0.6,
} as const;

/** Samples of the two edges of a gap of a width in mm round a sample. */
export function edgesOf(sample: number, width: number): [number, number] {
  const apart = Math.round(width / TOP_MAP.step);
  const low = sample - (apart >> 1);
  return [low, low + apart];
}

/**
 * The widths of a gap along a course, mm, null where the course shows none.
 *
 * @returns null where the stations together do not bear it out that there are two edges: what a seam, a fold or a dent beside
 * it may as well be is no gap
 */
export function gapAlong(map: TopMap, course: readonly CutStation[]): (number | null)[] | null {
  if (course.filter(({ shape }) => typeof shape === 'number').length < GAP_ALONG.stations) return null;
  const fits = course.map(({ station, sample, shape }) => (typeof shape === 'number' ? fitGap(map, station, ...edgesOf(sample, shape)) : null));
  const gains = fits.map((fit) => fit?.gain ?? 0);
  if (withoutBest(gains, GAP_ALONG.stretch) < GAP_ALONG.sure) return null;
  const first = opensAt(gains);
  return course.map(({ shape }, i) => (i >= first && typeof shape === 'number' ? Math.max(TOP_MAP.step, (fits[i]?.width ?? shape) - GAP_ALONG.lips) : null));
}

/** The station from which on two edges explain the sections best, if those before it, taken together, speak for one line; else 0. */
function opensAt(gains: readonly number[]): number {
  let first = gains.length;
  let most = 0;
  let sum = 0;
  for (let i = gains.length - 1; i >= 0; i--) {
    sum += gains[i];
    if (sum <= most) continue;
    most = sum;
    first = i;
  }
  return most - sum >= GAP_ALONG.closed ? first : 0;
}
