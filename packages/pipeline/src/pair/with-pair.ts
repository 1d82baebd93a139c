import type { CastCheck, Finding } from '../records.js';
import { verdictOf } from '../stages/check-cast.js';
import type { PairFinding } from './pair-findings.js';

/**
 * The check of one cast with what its comparison with another one found. A pair alone never asks for a new cast, and where
 * the other cast is the one that looks wrong, it is a note on this one.
 *
 * @param findings of a comparison in which this cast was the first
 */
export function withPair(check: CastCheck, findings: readonly PairFinding[]): CastCheck {
  const added = findings.map(({ suspect, ...finding }): Finding => ({ ...finding, severity: suspect === 'second' ? 'note' : finding.severity }));
  const all = [...check.findings, ...added];
  return { verdict: verdictOf(all), findings: all, readings: check.readings };
}
