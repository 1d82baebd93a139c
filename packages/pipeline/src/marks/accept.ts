import { anatomyAt } from '@cast-to-last/foot/anatomy';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Extent } from './extent.js';
import type { Spot } from './spots.js';

/**
 * How likely a place is a mark rather than anatomy: a linear score of what was measured of it, 0 where both are equally
 * likely. The weights were fitted by logistic regression on generated casts of the tuning range and checked on others;
 * each is named for what it weighs.
 */
export const SCORE = {
  body: { doubt: -1.61, depth: 5.02, height: 0.51, slender: -3.47, wide: -3.26, ring: -1.2, gaps: -0.2, narrowest: -3.56, anatomy: -4.5, margin: 2.64, evenness: 4.7, offset: 1.7 },
  toes: { doubt: -1.27, depth: -1.28, height: 0.47, slender: -1.02, wide: 0, ring: -0.87, gaps: -0.89, narrowest: -4.78, anatomy: 0, margin: 1.53, evenness: 0, offset: 0 },
  /** A depth beyond this speaks no louder for a mark: anatomy stands out by more, mm. */
  fullDepth: 1.5,
  /** A spot is worth measuring from this height on, mm; a wide one stands out from anatomy only if it is higher. */
  leastSpot: 0.35,
  leastWideSpot: 0.5,
  wideFrom: 13,
  /** A spot whose directions agree less than this is anatomy. */
  leastEvenness: 0.42,
  /** Deeper than this is no finger's work, mm. */
  mostDepth: 10,
  /** Wider than this is no finger's work either, mm. */
  widest: 29,
  /** Ground without heights or hollows of its own: what it adds to the score, and how wide a mark may be there, mm. */
  quiet: 0.63,
  widestOnQuiet: 30,
  /** On the toes less is believed, mm. */
  mostOnToes: 4,
  widestOnToes: 17,
  /** Width at which a likeness to anatomy counts in full: the foot's own heights are this wide and wider, mm. */
  anatomyWidth: 18,
  /** A height of the other sign beside a mark, less than this share of its depth, is the mark's rim. */
  rimShare: 0.7,
  /** Margin that a rim may still add to a first measurement, mm. */
  hopeForMargin: 2,
  /** Share by which another gap may show it higher. */
  hopeForHeight: 1.2,
  /** Where the toes begin: this share of the way from the ball points to the toe tip. */
  toesFrom: 0.15,
  /** Two spots are of one place where their extents' centres lie within this distance and their depths agree within this ratio. */
  samePlace: 4,
  sameDepth: 1.18,
} as const;

export type GroundKind = 'body' | 'toes';

/** What is known of the foot where a mark may lie. */
export interface Ground {
  kindAt(point: ArrayLike<number>): GroundKind;
  /** How much a height of this sign there looks like the foot's own, 0 to 1. */
  anatomyAt(point: ArrayLike<number>, sign: number): number;
}

/** The ground of a cast in its foot frame. */
export function groundOf(landmarks: Landmarks, side: Side): Ground {
  const { medialBall: a, lateralBall: b, footLength } = landmarks;
  return {
    kindAt(point) {
      const [x, y] = [point[0], point[1]];
      const share = Math.abs(a[1] - b[1]) < 1 ? 0.5 : Math.min(1, Math.max(0, (y - b[1]) / (a[1] - b[1])));
      const ball = b[0] + share * (a[0] - b[0]);
      return x > ball + SCORE.toesFrom * (footLength - ball) ? 'toes' : 'body';
    },
    anatomyAt: (point, sign) => anatomyAt(point, sign, footLength, side),
  };
}

/** Spots, at one gap or several, whose extents are the same. */
export interface Place {
  /** The extent whose depth is least in doubt, and the spot that it was measured from. */
  readonly extent: Extent;
  readonly spot: Spot;
  /** Greatest height of its spots, mm, unsigned. */
  readonly height: number;
  /** Greatest evenness of its spots. */
  readonly evenness: number;
  /** How many spots it has, and the narrowest gap among them, mm. */
  readonly gaps: number;
  readonly narrowest: number;
}

/** Joins measured spots to places. */
export function joinPlaces(measured: readonly { spot: Spot; extent: Extent }[]): Place[] {
  const groups: { spot: Spot; extent: Extent }[][] = [];
  for (const one of measured) {
    const group = groups.find(([first]) => {
      const ratio = first.extent.depth / one.extent.depth;
      const apart = Math.hypot(...[0, 1, 2].map((k) => first.extent.centre[k] - one.extent.centre[k]));
      return apart < SCORE.samePlace && ratio > 1 / SCORE.sameDepth && ratio < SCORE.sameDepth;
    });
    if (group === undefined) groups.push([one]);
    else group.push(one);
  }
  return groups.map((group) => {
    const best = group.reduce((a, b) => (b.extent.doubt < a.extent.doubt ? b : a));
    return {
      ...best,
      height: Math.max(...group.map((one) => Math.abs(one.spot.height))),
      evenness: Math.max(...group.map((one) => one.spot.evenness)),
      gaps: group.length,
      narrowest: Math.min(...group.map((one) => one.spot.gap)),
    };
  });
}

/** The score of a place on its ground; −Infinity where it cannot be a mark. */
export function scoreOf(place: Place, ground: Ground, leastDepth: number): number {
  const { extent } = place;
  const depth = Math.abs(extent.depth);
  if (depth < leastDepth || depth > SCORE.mostDepth ) return -Infinity;
  const quiet = ground.anatomyAt(extent.centre, 1) === 0 && ground.anatomyAt(extent.centre, -1) === 0;
  if (extent.width > (quiet ? SCORE.widestOnQuiet : SCORE.widest)) return -Infinity;
  const kind = ground.kindAt(extent.centre);
  if (kind === 'toes' && (depth > SCORE.mostOnToes || extent.width > SCORE.widestOnToes)) return -Infinity;
  const w = SCORE[kind];
  return (
    w.offset +
    (quiet && kind === 'body' ? SCORE.quiet : 0) +
    w.doubt * Math.log(Math.max(extent.doubt, 0.02) / depth) +
    w.depth * Math.log(Math.min(depth, SCORE.fullDepth)) +
    w.height * Math.log(Math.min(1.1, place.height / depth)) +
    w.evenness * Math.log(place.evenness) +
    w.margin * (extent.margin / 10) +
    w.slender * Math.log(extent.length / Math.max(extent.width, 1)) +
    w.wide * Math.max(0, (extent.width - 16) / 10) +
    w.ring * Math.log(Math.max(extent.ringError, 0.015)) +
    w.gaps * place.gaps +
    w.narrowest * (place.narrowest / 10) +
    w.anatomy * ground.anatomyAt(extent.centre, extent.depth) * Math.min(1.8, Math.max(0.4, extent.width / SCORE.anatomyWidth))
  );
}

/** Whether a spot could still score as a mark, going by its extent with doubt, evenness and margin at their best. */
export function couldBeMark(extent: Extent, spot: Spot, ground: Ground, leastDepth: number): boolean {
  const best = { ...extent, margin: extent.margin + SCORE.hopeForMargin };
  return scoreOf({ extent: best, spot, height: SCORE.hopeForHeight * Math.abs(spot.height), evenness: spot.evenness, gaps: 1, narrowest: spot.gap }, ground, leastDepth) > 0;
}
