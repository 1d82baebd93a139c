import { anatomyAt } from '@cast-to-last/foot/anatomy';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Extent } from './extent.js';
import type { Spot } from './spots.js';

/**
 * How likely a place is a mark rather than anatomy: a linear score of what was measured of it, 0 where both are equally
 * likely. The weights were fitted by logistic regression, with a penalty on their size, on generated casts of the tuning
 * range and, as ground without marks, on scans of a few real feet; how much they count together, against slender shape and
 * the ground beside, was fitted on casts from two other sources too, and checked by leaving out a whole source in turn. The
 * body's weight of anatomy and both offsets were then set so that casts of the tuning range keep their marks. Each is named
 * for what it weighs. Lengths in mm.
 */
export const SCORE = {
  body: { offset: 0.01, doubt: -0.71, depth: 1.07, deep: -1.16, height: 0.39, evenness: 1.44, slender: -5.03, wide: -1.18, narrow: -3.17, ring: -0.13, gaps: 0.25, narrowest: -1.06, growth: -0.61, margin: 1.43, steep: 0.86, bump: -1.03, quiet: 0.56, anatomy: -2, beside: -1.79 },
  toes: { offset: 0.38, doubt: -0.86, depth: 1.6, deep: 0, height: 0.76, evenness: 2.52, slender: -4.21, wide: -1.29, narrow: 0, ring: -0.45, gaps: 0, narrowest: -2.83, growth: 0, margin: 2.16, steep: 0, bump: -2.32, quiet: 0, anatomy: 0, beside: -0.61 },
  /** Up to this depth a greater one speaks for a mark, beyond it for anatomy, which stands out by more, mm. */
  fullDepth: 1.5,
  /** A spot is worth measuring from this height on, mm; a wide one stands out from anatomy only if it is higher. */
  leastSpot: 0.35,
  leastWideSpot: 0.5,
  wideFrom: 13,
  /** A spot whose directions agree less than this is anatomy. */
  leastEvenness: 0.42,
  /** Deeper than this is no finger's work, mm. */
  mostDepth: 10,
  /** Wider than this, or narrower, is no finger's work either, mm. */
  widest: 40,
  slimmest: 4,
  /** Width at which a likeness to anatomy counts in full: the foot's own heights are this wide and wider, mm. */
  anatomyWidth: 18,
  /** Uneven ground beside a mark counts as a share of its depth: at least this, this where it is not measured… */
  leastBeside: 0.03,
  usualBeside: 0.18,
  /** … and between these two. */
  evenBeside: 0.02,
  unevenBeside: 0.8,
  /** A place that scores no mark, but more than this, is measured again once a mark beside it steers nothing. */
  leastForSecondLook: -1,
  /** A height of the other sign beside a mark, less than this share of its depth, is the mark's rim. */
  rimShare: 0.7,
  /** Margin that a rim may still add to a first measurement, mm. */
  hopeForMargin: 6,
  /** Share by which another gap may show it higher. */
  hopeForHeight: 1.2,
  /** Where the toes begin: this share of the way from the ball points to the toe tip. */
  toesFrom: 0.15,
  /** … and where they are free of each other, about 8 % of foot length ahead of the ball. */
  freeToesFrom: 0.3,
  /** Two spots are of one place where their extents' centres lie within this distance and their depths agree within this ratio. */
  samePlace: 4,
  sameDepth: 1.18,
} as const;

export type GroundKind = 'body' | 'toes';

/** What is known of the foot where a mark may lie. */
export interface Ground {
  kindAt(point: ArrayLike<number>): GroundKind;
  /** Whether a point lies where the toes are free of each other. */
  onFreeToes(point: ArrayLike<number>): boolean;
  /** How much a height of this sign there looks like the foot's own, 0 to 1. */
  anatomyAt(point: ArrayLike<number>, sign: number): number;
}

/** The ground of a cast in its foot frame. */
export function groundOf(landmarks: Landmarks, side: Side): Ground {
  const { medialBall: a, lateralBall: b, footLength } = landmarks;
  /** How far a point lies on the way from the line through the ball points to the toe tip. */
  const wayToTip = (point: ArrayLike<number>): number => {
    const x = point[0];
    const y = point[1];
    const share = Math.abs(a[1] - b[1]) < 1 ? 0.5 : Math.min(1, Math.max(0, (y - b[1]) / (a[1] - b[1])));
    const ball = b[0] + share * (a[0] - b[0]);
    return (x - ball) / (footLength - ball);
  };
  return {
    kindAt: (point) => (wayToTip(point) > SCORE.toesFrom ? 'toes' : 'body'),
    onFreeToes: (point) => wayToTip(point) > SCORE.freeToesFrom,
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
  /** How far the ground beside it stands off where it is measured likewise, mm; NaN where it decides nothing or could not be measured. */
  readonly beside: number;
}

/** A place of which the ground beside it was not measured yet. */
export type JoinedPlace = Omit<Place, 'beside'>;

/** Joins measured spots to places. */
export function joinPlaces(measured: readonly { spot: Spot; extent: Extent }[]): JoinedPlace[] {
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
  if (depth < leastDepth || depth > SCORE.mostDepth || extent.width > SCORE.widest || extent.width < SCORE.slimmest) return -Infinity;
  const quiet = ground.anatomyAt(extent.centre, 1) === 0 && ground.anatomyAt(extent.centre, -1) === 0;
  const beside = Number.isNaN(place.beside) ? SCORE.usualBeside : place.beside / Math.min(depth, SCORE.fullDepth);
  const w = SCORE[ground.kindAt(extent.centre)];
  return (
    w.offset +
    (quiet ? w.quiet : 0) +
    (extent.depth > 0 ? w.bump : 0) +
    w.doubt * Math.log(Math.max(extent.doubt, 0.02) / depth) +
    w.depth * Math.log(Math.min(depth, SCORE.fullDepth)) +
    w.deep * Math.log(Math.max(1, depth / SCORE.fullDepth)) +
    w.height * Math.log(Math.min(1.3, Math.max(0.1, place.height / depth))) +
    w.evenness * Math.log(place.evenness) +
    w.slender * Math.log(extent.length / extent.width) +
    w.wide * Math.max(0, (extent.width - 16) / 10) +
    w.narrow * Math.max(0, (10 - extent.width) / 10) +
    w.ring * Math.log(Math.max(extent.ringError, 0.015)) +
    w.gaps * Math.min(3, place.gaps) +
    w.narrowest * (place.narrowest / 10) +
    w.growth * Math.min(1, Math.abs(Math.log(Math.min(3, Math.max(0.3, extent.growth))))) +
    w.margin * ((extent.margin - 4) / 10) +
    w.steep * Math.log((10 * depth) / extent.width) +
    w.anatomy * ground.anatomyAt(extent.centre, extent.depth) * Math.min(1.8, Math.max(0.4, extent.width / SCORE.anatomyWidth)) +
    w.beside * Math.log(SCORE.leastBeside + beside)
  );
}

/** The score of a place if the ground beside it turned out as even, and as uneven, as ground gets. */
export function scoreRange(joined: JoinedPlace, ground: Ground, leastDepth: number): { best: number; worst: number } {
  const depth = Math.min(Math.abs(joined.extent.depth), SCORE.fullDepth);
  return {
    best: scoreOf({ ...joined, beside: SCORE.evenBeside * depth }, ground, leastDepth),
    worst: scoreOf({ ...joined, beside: SCORE.unevenBeside * depth }, ground, leastDepth),
  };
}

/** Whether a spot could still score as a mark, going by its extent with doubt, evenness, margin and the ground beside at their best. */
export function couldBeMark(extent: Extent, spot: Spot, ground: Ground, leastDepth: number): boolean {
  const best = { ...extent, margin: extent.margin + SCORE.hopeForMargin };
  const height = SCORE.hopeForHeight * Math.abs(spot.height);
  return scoreRange({ extent: best, spot, height, evenness: spot.evenness, gaps: 2, narrowest: spot.gap }, ground, leastDepth).best > 0;
}
