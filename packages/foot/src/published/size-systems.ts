/**
 * Shoe sizes from the length of the foot.
 *
 * @source ISO 9407 (Mondopoint: length of the foot in mm, steps of 5 mm). Trust: seen, quoted in a standard's preview.
 * @source ISO/TS 19407:2015 (Paris point, UK adult, US). Trust: second-hand; the standard's own text was not read.
 *         Retail charts differ, most of all for the US (men UK + 0.5 instead of + 1, women UK + 1.5 instead of + 2).
 */

export const MONDOPOINT_STEP_MM = 5;

/** Paris points = PARIS_POINTS_PER_MM · foot length + PARIS_POINTS_OFFSET; the offset is the last's two points of extra length. */
export const PARIS_POINTS_PER_MM = 0.15;
export const PARIS_POINTS_OFFSET = 2;

/** UK adult size = 3 · foot length / 25.4 − 23: one size is a third of an inch. */
export const UK_SIZE_MM = 25.4 / 3;
export const UK_ADULT_OFFSET = -23;

/** US size = UK adult size + this, standard basis. */
export const US_MEN_OVER_UK = 1;
export const US_WOMEN_OVER_UK = 2;
