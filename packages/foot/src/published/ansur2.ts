/**
 * Feet of a population: mean, standard deviation, 1st and 99th percentile.
 *
 * @source ANSUR II, 2012 survey (NATICK/TR-15/007), public records of 4082 men and 1986 women. Trust: computed from the
 *         records. The survey measured standing feet of soldiers; it holds no instep girth and no left-right pairs.
 */
export interface Spread {
  readonly mean: number;
  readonly sd: number;
  readonly p1: number;
  readonly p99: number;
}

/** mm */
export const ANSUR2 = {
  men: {
    footLength: { mean: 271.2, sd: 13.1, p1: 242, p99: 302 },
    ballGirth: { mean: 252.0, sd: 12.9, p1: 224, p99: 284 },
    breadth: { mean: 101.9, sd: 5.2, p1: 91, p99: 115 },
    heelBreadth: { mean: 72.5, sd: 5.5, p1: 61, p99: 87 },
    heelAnkleGirth: { mean: 343.5, sd: 16.6, p1: 307, p99: 385 },
    lateralMalleolusHeight: { mean: 72.9, sd: 5.7, p1: 60, p99: 87 },
  },
  women: {
    footLength: { mean: 246.3, sd: 12.4, p1: 219, p99: 276 },
    ballGirth: { mean: 228.1, sd: 11.8, p1: 203, p99: 257 },
    breadth: { mean: 92.7, sd: 4.8, p1: 83, p99: 104 },
    heelBreadth: { mean: 67.2, sd: 5.2, p1: 57, p99: 80 },
    heelAnkleGirth: { mean: 310.3, sd: 15.3, p1: 277, p99: 348 },
    lateralMalleolusHeight: { mean: 62.8, sd: 5.1, p1: 51, p99: 75 },
  },
} as const satisfies Record<'men' | 'women', Record<string, Spread>>;

/** Ratios of the same survey, mean and standard deviation. FL is the foot length. */
export const ANSUR2_RATIOS = {
  men: {
    medialBallLengthToFL: { mean: 0.741, sd: 0.015 },
    breadthToFL: { mean: 0.376, sd: 0.017 },
    ballGirthToFL: { mean: 0.93, sd: 0.042 },
    heelBreadthToFL: { mean: 0.268, sd: 0.018 },
    ballGirthToBreadth: { mean: 2.475, sd: 0.065 },
  },
  women: {
    medialBallLengthToFL: { mean: 0.739, sd: 0.013 },
    breadthToFL: { mean: 0.377, sd: 0.018 },
    ballGirthToFL: { mean: 0.927, sd: 0.042 },
    heelBreadthToFL: { mean: 0.273, sd: 0.018 },
    ballGirthToBreadth: { mean: 2.461, sd: 0.067 },
  },
} as const;
