/**
 * Limits of plaster dust in the air over a working day, mg/m³.
 *
 * @source NIOSH Pocket Guide, npgd0518 (gypsum, plaster of Paris). Trust: seen.
 */
export const PLASTER_DUST_LIMITS = {
  niosh: { total: 10, respirable: 5 },
  osha: { total: 15, respirable: 5 },
} as const;
