import {
  MONDOPOINT_STEP_MM, PARIS_POINTS_OFFSET, PARIS_POINTS_PER_MM, UK_ADULT_OFFSET, UK_SIZE_MM, US_MEN_OVER_UK, US_WOMEN_OVER_UK,
} from './published/size-systems.js';

/** What a shoe for this foot length is marked, and the exact values before rounding. */
export interface Sizes {
  /** mm, a multiple of 5 */
  readonly mondopoint: number;
  readonly parisPoint: number;
  /** Adult scale; null where the foot is shorter than the adult scale begins. */
  readonly uk: number | null;
  readonly usMen: number | null;
  readonly usWomen: number | null;
  readonly convention: string;
  readonly exact: { readonly footLength: number; readonly parisPoint: number; readonly uk: number };
}

export const SIZE_CONVENTION =
  'From the foot length F in mm, as ISO/TS 19407:2015 is quoted: Paris points 0.15 F + 2, UK adult 3 F/25.4 - 23, ' +
  'US men UK + 1, US women UK + 2; marked to the nearest half size, ties down; Mondopoint (ISO 9407) to the nearest 5 mm. ' +
  'Makers and shops use other tables: for F = 270 the Paris point is given as 42.5, 42.75 or 40.5.';

/** Far below any measuring error, far above rounding of the formulas: keeps a tie a tie. */
const TIE = 1e-9;

/** The nearest multiple of `step`; a tie goes down. */
const nearestDown = (value: number, step: number): number => Math.ceil(value / step - 0.5 - TIE) * step;

/** Sizes in all systems from a foot length in mm. Throws RangeError unless the length is a positive number. */
export function sizesFromFootLength(footLength: number): Sizes {
  if (!(footLength > 0 && Number.isFinite(footLength))) throw new RangeError(`foot length ${footLength} mm`);
  const paris = PARIS_POINTS_PER_MM * footLength + PARIS_POINTS_OFFSET;
  const uk = footLength / UK_SIZE_MM + UK_ADULT_OFFSET;
  const ukMarked = nearestDown(uk, 0.5);
  const adult = (over: number): number | null => (ukMarked > 0 ? ukMarked + over : null);
  return {
    mondopoint: nearestDown(footLength, MONDOPOINT_STEP_MM),
    parisPoint: nearestDown(paris, 0.5),
    uk: adult(0),
    usMen: adult(US_MEN_OVER_UK),
    usWomen: adult(US_WOMEN_OVER_UK),
    convention: SIZE_CONVENTION,
    exact: { footLength, parisPoint: paris, uk },
  };
}
