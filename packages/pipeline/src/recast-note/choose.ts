import type { CastCheck, Finding, Reading } from '../records.js';
import { OTHER_ADVICE, adviceOn } from './advice.js';
import type { Advice } from './advice.js';

/** A finding that the customer is told of. */
export interface ToldFinding {
  readonly finding: Finding;
  /** The reading that it was made from, which knows what is wanted. */
  readonly reading: Reading | null;
  readonly advice: Advice;
}

/**
 * What the customer is told, worst first, each topic once: every finding that asks for a new cast, and what needs care
 * where it is a matter of how the foot was cast.
 */
export function chooseFindings({ findings, readings }: CastCheck): ToldFinding[] {
  const told: (ToldFinding & { readonly topic: string; readonly weight: number })[] = [];
  for (const finding of findings) {
    if (finding.severity === 'note') continue;
    const known = adviceOn(finding.code);
    if (known === null && finding.severity !== 'recast') continue;
    const advice = known ?? OTHER_ADVICE;
    const reading = readings.find((r) => r.id === finding.code) ?? null;
    told.push({ finding, reading, advice, topic: advice.topic ?? (known === null ? 'other' : finding.code), weight: excess(finding, reading) });
  }
  const rank = (f: Finding): number => (f.severity === 'recast' ? 1 : 0);
  told.sort((a, b) => rank(b.finding) - rank(a.finding) || b.weight - a.weight);
  return told.filter(({ topic }, i) => told.findIndex((other) => other.topic === topic) === i).map(({ finding, reading, advice }) => ({ finding, reading, advice }));
}

/** How many times over its limit a finding lies; 1 where it has no figures. */
function excess({ value, limit }: Finding, reading: Reading | null): number {
  if (value === null || limit === null || limit === 0) return 1;
  return Math.abs(value - (reading?.wanted ?? 0)) / Math.abs(limit);
}
