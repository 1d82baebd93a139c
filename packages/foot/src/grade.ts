import { GRADE_SYSTEMS, WIDTH_STEP_MM } from './published/grading.js';
import type { GradeSystem } from './published/grading.js';

/** A step from one last to another: so many sizes longer, so many widths fuller. Halves and negatives are taken. */
export interface GradeStep {
  readonly system: GradeSystem;
  readonly sizes: number;
  readonly widths: number;
  /** Growth of every girth from width to width, mm; a quarter of an inch where absent. */
  readonly widthStepMm?: number;
  /** Growth of every girth from size to size, mm; that of the system where absent. */
  readonly girthStepMm?: number;
}

/** By how much a last grows, mm. */
export interface GradeGrowth {
  readonly length: number;
  /** Of ball, waist and instep girth, all by the same. */
  readonly girth: number;
  /** The part of it that comes of the sizes: a width leaves heel and sole length as they are. */
  readonly girthOfSizes: number;
}

export function gradeGrowth({ system, sizes, widths, widthStepMm = WIDTH_STEP_MM, girthStepMm = GRADE_SYSTEMS[system].girthMm }: GradeStep): GradeGrowth {
  const girthOfSizes = sizes * girthStepMm;
  return { length: sizes * GRADE_SYSTEMS[system].lengthMm, girth: girthOfSizes + widths * widthStepMm, girthOfSizes };
}
