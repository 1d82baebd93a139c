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
   * dent or a buckle looks like two edges over some centimetres, the gap of a cut does so all along. (Generated casts of the
   * tuning range: gaps have 14 and more, all else 0 at most.)
   */
  sure: 8,
  stretch: 20,
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
  if (withoutBest(fits.map((fit) => fit?.gain ?? 0), GAP_ALONG.stretch) < GAP_ALONG.sure) return null;
  return course.map(({ shape }, i) => (typeof shape === 'number' ? Math.max(TOP_MAP.step, (fits[i]?.width ?? shape) - GAP_ALONG.lips) : null));
}
