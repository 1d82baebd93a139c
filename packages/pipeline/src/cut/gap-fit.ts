import { addedBy, explainedBy, gapWindow, leftByFoot, likelier, lineFeatures, squares } from './section-shapes.js';
import type { TopMap } from './top-map.js';
import { TOP_MAP } from './top-map.js';
import { gapFeatures } from './two-edges.js';

export const GAP_FIT = {
  /** The edges are sought within so many samples of where the lines were found. */
  within: 5,
  /** The sharp part of a lip, which tells the edge. */
  lip: [2, 1],
  /** Half width of a single line of any shape, mm: a seam with its ridge, hollow and step, 8 mm wide in all. */
  anyLine: 2.8,
} as const;

/** What the section at one station says of a gap. */
export interface GapFit {
  /** Distance of the lines at its edges, mm. */
  readonly width: number;
  /** How much better two edges explain the section than one line of whatever shape: a difference of log likelihoods. */
  readonly gain: number;
}

/**
 * The gap at one station: of all places of its two edges near those given the ones with which a foot, two lips that fade
 * away on the flaps and a strip that runs from lip to lip come nearest to the section.
 *
 * @param low sample of the edge on the −y side
 * @param high sample of the edge on the +y side
 * @returns null where the section is too short
 */
export function fitGap(map: TopMap, station: number, low: number, high: number): GapFit | null {
  const { within, lip, anyLine } = GAP_FIT;
  const window = gapWindow(high - low);
  const middle = (low + high) >> 1;
  const rest = leftByFoot(map, station, middle, window);
  if (rest === null) return null;
  let width = 0;
  let two = 0;
  for (let a = low - within; a <= low + within; a++) {
    for (let b = high - within; b <= high + within; b++) {
      if (b - a < 4) continue;
      const share = explainedBy([addedBy(window, gapFeatures((a - middle) * TOP_MAP.step, (b - middle) * TOP_MAP.step, lip, lip))], rest);
      if (share <= two) continue;
      two = share;
      width = (b - a) * TOP_MAP.step;
    }
  }
  if (width === 0) return null;
  let one = 0;
  for (let c = low - within; c <= high + within; c++) one = Math.max(one, explainedBy([addedBy(window, lineFeatures(c - middle, anyLine, 4))], rest));
  const total = squares(rest);
  return { width, gain: likelier(total - two, total - one, rest.length) };
}
