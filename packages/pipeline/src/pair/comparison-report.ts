import type { Side } from '@cast-to-last/foot/side';
import type { CastComparison } from './compare-casts.js';
import type { Casting } from '../order.js';
import type { CastCheck, ScanKind } from '../records.js';
import { rounded } from '../report/rounded.js';
import type { ComparedFigure } from './compared-cast.js';
import type { MapFigures } from './map-figures.js';
import { mapFigures } from './map-figures.js';
import type { PairFinding } from './pair-findings.js';
import type { ComparedResult, ComparedSurface } from './parse-result.js';

/** compare.json; packages/pipeline/schema/compare.schema.json describes the same. Differences are first less second. */
export interface ComparisonReport {
  readonly schema: 1;
  readonly casts: readonly [ComparedScan, ComparedScan];
  readonly relation: CastComparison['relation'];
  readonly measures: readonly ComparedFigure[];
  readonly readings: readonly ComparedFigure[];
  readonly findings: readonly PairFinding[];
  readonly registration: { readonly transform: readonly number[]; readonly mirrored: boolean; readonly rmsMm: number; readonly usedShare: number };
  readonly deviation: MapFigures;
  readonly rules: { readonly name: string; readonly version: string; readonly sha256: string };
  readonly program: { readonly version: string };
}

export interface ComparedScan {
  readonly file: string;
  readonly sha256: string;
  /** What is compared: the cleaned cast or the last of a result, or a mesh file as it is. */
  readonly of: ComparedSurface | 'file';
  /** Null for a mesh file, of which this is not known. */
  readonly kind: ScanKind | null;
  readonly side: Side;
  readonly load: Casting['load'] | null;
  /** Null for a mesh file, which is not checked. */
  readonly verdict: CastCheck['verdict'] | null;
}

/** What the report says of a result folder. */
export const comparedScan = ({ scan: { file, sha256, kind, side }, casting, castCheck }: ComparedResult, of: ComparedSurface): ComparedScan => ({ file, sha256, of, kind, side, load: casting.load ?? null, verdict: castCheck.verdict });

const figure = (f: ComparedFigure): ComparedFigure => ({
  ...f, first: rounded(f.first), second: rounded(f.second), difference: rounded(f.difference), uncertainty: rounded(f.uncertainty), expected: rounded(f.expected),
});

/** @param rules whose limits were used */
export function comparisonReport(
  comparison: CastComparison, casts: readonly [ComparedScan, ComparedScan], rules: ComparisonReport['rules'], programVersion: string,
): ComparisonReport {
  const { relation, measures, readings, findings, registration, map } = comparison;
  return {
    schema: 1,
    casts,
    relation,
    measures: measures.map(figure),
    readings: readings.map(figure),
    findings: findings.map((f) => ({ ...f, value: f.value === null ? null : rounded(f.value), uncertainty: f.uncertainty === null ? null : rounded(f.uncertainty) })),
    registration: { transform: Array.from(registration.transform), mirrored: registration.mirrored, rmsMm: rounded(registration.rms), usedShare: rounded(registration.usedShare) },
    deviation: mapFigures(map),
    rules,
    program: { version: programVersion },
  };
}
