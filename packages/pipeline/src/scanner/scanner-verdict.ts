import type { ScannerRules } from '../rules/scanner-rules.js';

/** One figure of a scanner check against its limit. */
export interface ScannerJudgement {
  readonly id: 'form-error' | 'size-error' | 'sphere-spacing-error';
  /** 1 or 2; null for the spacing. */
  readonly ball: number | null;
  readonly valueMm: number;
  readonly limitMm: number;
  readonly within: boolean;
  /** False where the uncertainty is larger than the distance to the limit: the other verdict may be the true one. */
  readonly sure: boolean;
}

export interface ScannerVerdict {
  readonly verdict: 'within-limits' | 'out-of-limits';
  readonly judgements: readonly ScannerJudgement[];
}

/** The figures that are judged; a check and a stored check both have them. */
export interface JudgedFigures {
  readonly balls: readonly { readonly form95Mm: number; readonly sizeErrorMm: number; readonly diameterUncertaintyMm: number }[];
  readonly spacing: { readonly errorMm: number; readonly uncertaintyMm: number } | null;
}

/**
 * A scanner's figures against the workshop's limits. The form error is judged by the shell that holds 95 % of the points:
 * the full range grows with their number.
 */
export function judgeScanner({ balls, spacing }: JudgedFigures, { maxFormMm, maxSizeMm, maxSpacingMm }: ScannerRules): ScannerVerdict {
  const judge = (id: ScannerJudgement['id'], ball: number | null, valueMm: number, limitMm: number, doubt: number): ScannerJudgement => {
    const room = limitMm - Math.abs(valueMm);
    return { id, ball, valueMm, limitMm, within: room >= 0, sure: Math.abs(room) > doubt };
  };
  const judgements = [
    ...balls.map((b, i) => judge('form-error', i + 1, b.form95Mm, maxFormMm, 0)),
    ...balls.map((b, i) => judge('size-error', i + 1, b.sizeErrorMm, maxSizeMm, b.diameterUncertaintyMm)),
    ...(spacing === null ? [] : [judge('sphere-spacing-error', null, spacing.errorMm, maxSpacingMm, spacing.uncertaintyMm)]),
  ];
  return { verdict: judgements.every((j) => j.within) ? 'within-limits' : 'out-of-limits', judgements };
}
