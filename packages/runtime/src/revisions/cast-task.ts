import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Order } from '@cast-to-last/pipeline/order';
import type { CastInput } from '@cast-to-last/pipeline/outcome';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import type { RevisionSummary, StoredFile } from '../records/json-types.js';

/** What a thread is told to make. Everything large stays in the store of files. */
export interface CastTask extends Pick<CastInput, 'fileName' | 'side' | 'kind' | 'unit' | 'wallMm' | 'sideOverride'> {
  readonly scanSha256: string;
  readonly order: Order;
  readonly rules: RuleSet;
  readonly decisions: Decisions;
  /** On the sheet: YYYY-MM-DD. */
  readonly date: string;
  /** What must be said of the scanner. */
  readonly warnings: readonly string[];
}

/** What it made: files in the store, and what a list shows of them. */
export interface CastMade {
  readonly files: readonly StoredFile[];
  readonly summary: RevisionSummary;
}
