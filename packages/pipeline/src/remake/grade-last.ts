import type { GradeStep } from '@cast-to-last/foot/grade';
import { gradeGrowth } from '@cast-to-last/foot/grade';
import { gradeBase, gradeBody, targetsOf } from '../last/grade/grade-body.js';
import type { GradeTargets } from '../last/grade/grade-body.js';
import type { AskedChange } from '../last/last-body.js';
import { shapeLast } from '../last/shape-last.js';
import type { LastRules } from '../rules/last-rules.js';
import type { Last } from '../records.js';
import type { StoredCast } from './stored-cast.js';
import { castBody, finishLast, particularsFor } from '../stages/build-last.js';

/** One last that is asked of a grading: by steps from the approved one, or by its own tape. */
export type GradeAsk = { readonly name: string; readonly step: GradeStep } | { readonly name: string; readonly targets: GradeTargets };

export interface GradedLast {
  readonly name: string;
  readonly last: Last;
  /** Length and girths of the last itself: of the approved one, as asked, as they came out. */
  readonly changes: readonly AskedChange[];
}

/**
 * Lasts of other sizes and widths from a stored cast: shaped by the rules as its own last is, grown, and closed at the top
 * anew, so that holes and letters keep their size.
 *
 * @throws CastError `cannot-grade`, `grade-out-of-reach`, `grade-not-reached`, and those of `buildLast`
 */
export async function gradeLasts({ measured, aligned, report }: StoredCast, asks: readonly GradeAsk[], rules: LastRules, orderNumber: string): Promise<GradedLast[]> {
  const particulars = particularsFor(rules, { casting: report.casting, orderNumber });
  const shaped = shapeLast(castBody(measured, aligned), rules, particulars.footbed);
  const base = gradeBase(shaped.body);
  const graded: GradedLast[] = [];
  for (const ask of asks) {
    const targets = 'targets' in ask ? ask.targets : targetsOf(base, gradeGrowth(ask.step));
    const step = gradeBody(shaped.body, base, targets);
    const last = await finishLast({ ...step, warnings: [...shaped.warnings, ...step.warnings] }, rules, particulars, { foot: null, asMeasured: null });
    graded.push({ name: ask.name, last, changes: step.changes });
  }
  return graded;
}
