import type { Side } from '@cast-to-last/foot/side';
import type { ViewAxes } from '@cast-to-last/geometry/views/view';
import type { CastError } from '@cast-to-last/pipeline/errors';
import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import type { ComparedSurface } from '@cast-to-last/pipeline/pair/parse-result';
import type { LengthUnit, ScanKind } from '@cast-to-last/pipeline/records';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import type { SideGuess } from '@cast-to-last/pipeline/guess-side';
import type { Gauge } from '@cast-to-last/pipeline/scanner/scanner-check';
import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import type { StoredFile } from '@cast-to-last/runtime/records/json-types';
import type { Comparison } from '../batches/compare-results.js';

/** What a thread can be told to do, with what it answers. Everything large stays in the store of files. */
export interface ThreadTasks {
  /** What a candidate changes of a result. */
  'compare-results': { readonly task: { readonly before: readonly StoredFile[]; readonly after: readonly StoredFile[] }; readonly answer: Comparison };
  /** Two casts or lasts of one customer. */
  'compare-casts': { readonly task: CastsToCompare; readonly answer: ComparedCasts };
  /** Which foot a scan shows. */
  'guess-side': { readonly task: { readonly sha256: string; readonly kind: ScanKind; readonly unit: LengthUnit | 'auto' }; readonly answer: SideGuess };
  /** A body of a result as a picture. */
  'draw-picture': { readonly task: PictureToDraw; readonly answer: DrawnPicture };
  /** A scan of the gauge. */
  'check-scanner': { readonly task: GaugeToCheck; readonly answer: StoredScannerCheck };
}

export const PICTURES = ['top', 'sole', 'outer', 'inner', 'heel', 'toes'] as const;
export type PictureName = (typeof PICTURES)[number];

export interface PictureToDraw {
  readonly bodySha256: string;
  readonly reportSha256: string;
  readonly side: Side;
  readonly view: PictureName;
  readonly body: 'scan' | 'cleaned' | 'last';
  /** mm at the ends of the scale of change; null: none is shown. */
  readonly rangeMm: number | null;
}

export interface DrawnPicture {
  readonly png: Uint8Array;
  readonly axes: ViewAxes;
  /** mm to the right and up of the lowest left sample, and between samples. */
  readonly origin: readonly [number, number];
  readonly cell: number;
  readonly rows: number;
  /** Ids of the marks that the picture shows. */
  readonly seen: readonly string[];
}

export interface CastsToCompare {
  readonly first: readonly StoredFile[];
  readonly second: readonly StoredFile[];
  readonly of: ComparedSurface;
  readonly rules: RuleSet;
  readonly programVersion: string;
}

export interface ComparedCasts {
  readonly report: ComparisonReport;
  readonly files: readonly StoredFile[];
}

export interface GaugeToCheck {
  readonly sha256: string;
  readonly fileName: string;
  readonly unit: LengthUnit | 'auto';
  readonly gauge: Gauge;
  readonly limits: RuleSet['scanner'];
  /** YYYY-MM-DD */
  readonly date: string;
  readonly programVersion: string;
}

export type TaskKind = keyof ThreadTasks;

/** One task on its way to a thread. */
export type SentTask = { readonly [Kind in TaskKind]: { readonly kind: Kind; readonly task: ThreadTasks[Kind]['task'] } }[TaskKind];

/** What a thread says when a task has ended; a CastError loses its class on the way and is made anew. */
export type TaskEnd =
  | { readonly answer: unknown }
  | { readonly refused: Pick<CastError, 'code' | 'remedy'> & { readonly problem: string } }
  | { readonly fault: { readonly message: string; readonly stack: string } };
