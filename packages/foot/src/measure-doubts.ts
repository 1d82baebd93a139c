/**
 * How far surface that repair made may lie from the true one, mm, for 95 %: a missing sole patch of 60 × 100 mm was filled
 * within 0.5 mm RMS and 1.8 mm at worst (generated blob).
 */
export const MADE_UP_ERROR = 2;

/** A measure that may be off by more than this, mm, is not taken (chosen: two sizes of a shoe). */
export const MOST_DOUBT = 12;

/** Doubts that are not read off the surface (chosen). */
export const DOUBTS = {
  /** How far along the foot these may lie unnoticed, mm: the heel's section, instep and waist, the top of the heel girths. */
  heelSection: 0.5,
  top: 1,
  heelTop: 2,
  /** Of the ankle girth, whose height goes in steps, and of where the arch is highest, mm. */
  ankleGirth: 0.5,
  archHeight: 0.3,
} as const;
