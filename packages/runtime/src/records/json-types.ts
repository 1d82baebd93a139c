import type { Report } from '@cast-to-last/pipeline/report/report';

/** What rows hold as JSON. */

export interface StoredFile {
  readonly name: string;
  readonly sha256: string;
  /** bytes */
  readonly size: number;
}

export interface Photo extends StoredFile {
  /** The media type. */
  readonly type: string;
}

export interface Consent {
  readonly at: string;
  readonly text: string;
}

/** What a list shows of a revision; the whole is in its report.json. */
export interface RevisionSummary {
  readonly verdict: Report['castCheck']['verdict'];
  readonly findings: readonly { readonly code: string; readonly severity: string; readonly text: string }[];
  readonly marks: { readonly smooth: number; readonly keep: number; readonly ask: number };
  readonly measurements: Report['measurements'];
  readonly sizes: Report['sizes'];
  readonly triangles: { readonly scan: number; readonly last: number };
  readonly stages: Report['stages'];
  readonly warnings: readonly string[];
}

export interface Refusal {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

/** One thing that happened to a job, kept for whoever has to find out why. */
export interface StoryLine {
  readonly at: string;
  readonly what: 'fault' | 'worker-died' | 'out-of-memory' | 'out-of-time' | 'lease-ran-out' | 'drained' | 'cancelled';
  readonly worker: string | null;
  readonly stage: string | null;
  readonly text: string;
}

export interface JobProgress {
  readonly stage: string;
  readonly done: number;
  readonly of: number;
}
