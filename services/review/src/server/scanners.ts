import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';

/** A scanner and how it stands by its last check and the newest rules. */
export interface Scanner {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly retiredAt: string | null;
  readonly checkedOn: string | null;
  readonly goodUntil: string | null;
  readonly verdict: StoredScannerCheck['verdict'] | null;
  readonly warnings: readonly string[];
}

export interface KeptCheck {
  readonly id: string;
  readonly at: string;
  readonly verdict: string;
  readonly content: StoredScannerCheck;
}
