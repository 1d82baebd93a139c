import type { Point } from '@cast-to-last/foot/landmarks';
import type { CastCheck, Finding, Reading } from '@cast-to-last/pipeline/records';
import { verdictOf } from '@cast-to-last/pipeline/stages/check-cast';

export interface Weighed {
  readonly finding: Finding;
  readonly reading: Reading;
}

/** A finding made by hand with the reading that it comes from. */
export function weighed(
  id: string, severity: Finding['severity'], value: number | null, wanted: number | null, limit: number | null, unit = 'deg', at: Point | null = null,
): Weighed {
  return {
    finding: { code: id, severity, value, limit, unit, uncertainty: 0.5, at, text: `What the workshop is told of ${id}.` },
    reading: { id, label: id, value, uncertainty: 0.5, unit, wanted, care: limit, recast: limit, why: '', at },
  };
}

export function castCheck(...all: readonly Weighed[]): CastCheck {
  const findings = all.map(({ finding }) => finding);
  return { verdict: verdictOf(findings), findings, readings: all.map(({ reading }) => reading) };
}
