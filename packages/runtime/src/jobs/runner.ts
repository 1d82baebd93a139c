import type { JobProgress, StoredFile } from '../records/json-types.js';
import type { JobRow } from './jobs.js';

/** Runs the jobs that wait: in this process, or wherever workers listen to the queue. */
export interface Runner {
  /** Begins to take jobs; without it a runner only hands them over. */
  start(): Promise<void>;
  /** Throws where the queue does not answer. */
  health(): Promise<void>;
  /** Jobs of this process that run now. */
  running(): number;
  /** Takes no more jobs, gives those that run some time, sends back the others, and lets go of the queue. */
  close(): Promise<void>;
}

/** What does a job. Gives its result; throws CastError where the job's subject is refused, WorkerDied where its thread died. */
export type Work = (job: JobRow, control: WorkControl) => Promise<unknown>;

export interface WorkControl {
  /** Aborted where the work has to stop. */
  readonly signal: AbortSignal;
  progress(progress: JobProgress): void;
  preview(files: readonly StoredFile[]): void;
}

/** The thread that did the work ended before the work did. */
export class WorkerDied extends Error {
  override readonly name = 'WorkerDied';
  readonly what: 'worker-died' | 'out-of-memory' | 'out-of-time';

  constructor(what: WorkerDied['what'], message: string) {
    super(message);
    this.what = what;
  }
}
