import { Worker } from 'node:worker_threads';
import type { StoreConfig } from '@cast-to-last/runtime/artifacts/open-store';
import type { StoredFile } from '@cast-to-last/runtime/records/json-types';
import type { Comparison } from './compare-results.js';

export interface ToCompare {
  readonly before: readonly StoredFile[];
  readonly after: readonly StoredFile[];
}

/** One thread that compares results, away from the loop that answers requests. One pair at a time. */
export interface ComparePool {
  /** Throws where the results cannot be compared, and where the thread died. */
  compare(pair: ToCompare): Promise<Comparison>;
  close(): Promise<void>;
}

/** Compiled, whatever runs here: threads know nothing of loaders for TypeScript. */
const PROGRAM = new URL('../../dist/batches/compare-thread.js', import.meta.url);
const MEMORY_MB = 1024;

export function openComparePool({ dataFolder, objectStore }: StoreConfig): ComparePool {
  let worker: Worker | null = null;
  const start = (): Worker => {
    const thread = new Worker(PROGRAM, { workerData: { dataFolder, objectStore }, execArgv: [], resourceLimits: { maxOldGenerationSizeMb: MEMORY_MB } });
    // Between two pairs too an error must have a listener, or it ends the process.
    thread.on('error', () => undefined);
    thread.once('exit', () => {
      if (worker === thread) worker = null;
    });
    return thread;
  };
  return {
    compare: (pair) => {
      const thread = (worker ??= start());
      return new Promise((resolve, reject) => {
        const settle = (): void => {
          thread.off('message', answered);
          thread.off('error', died);
          thread.off('exit', died);
        };
        const answered = (answer: { comparison: Comparison } | { error: string }): void => {
          settle();
          if ('comparison' in answer) resolve(answer.comparison);
          else reject(new Error(answer.error));
        };
        const died = (error: unknown): void => {
          settle();
          worker = null;
          reject(error instanceof Error ? error : new Error('The thread that compares results ended.'));
        };
        thread.on('message', answered);
        thread.on('error', died);
        thread.on('exit', died);
        thread.postMessage(pair);
      });
    },
    close: async () => {
      await worker?.terminate();
      worker = null;
    },
  };
}
