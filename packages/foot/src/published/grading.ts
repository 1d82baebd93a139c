/**
 * How much a last grows from size to size.
 *
 * @source Length: one English and US size is a third of an inch, one Paris point two thirds of a centimetre (ISO/TS
 *         19407:2015, second-hand), one Mondopoint step 5 mm (ISO 9407).
 * @source Girth: F. Y. Golding, The Manufacture of Boots and Shoes: in the men's run of sizes 1 to 5 joint and instep both
 *         grow by a quarter of an inch a size (seen). US lasts: a quarter of an inch a size and a width (second-hand).
 *         Paris point and Mondopoint: 5 mm a size (from memory).
 */
export const GRADE_SYSTEMS = {
  uk: { lengthMm: 25.4 / 3, girthMm: 6.35 },
  us: { lengthMm: 25.4 / 3, girthMm: 6.35 },
  'paris-point': { lengthMm: 20 / 3, girthMm: 5 },
  mondopoint: { lengthMm: 5, girthMm: 5 },
} as const satisfies Readonly<Record<string, { readonly lengthMm: number; readonly girthMm: number }>>;

export type GradeSystem = keyof typeof GRADE_SYSTEMS;

/** Of girth, mm: a quarter of an inch (second-hand, as above). */
export const WIDTH_STEP_MM = 6.35;
