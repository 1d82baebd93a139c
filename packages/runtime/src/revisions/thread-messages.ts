import type { StoreConfig } from '../artifacts/open-store.js';
import type { JobProgress, StoredFile } from '../records/json-types.js';
import type { CastMade } from './cast-task.js';

export interface ThreadSettings {
  readonly store: StoreConfig;
  readonly cacheBytes: number;
}

/** What a thread says; a task is what it is told. */
export type FromThread =
  | { readonly kind: 'progress'; readonly progress: JobProgress }
  | { readonly kind: 'preview'; readonly files: readonly StoredFile[] }
  | { readonly kind: 'warning'; readonly text: string }
  /** What was made beside the cast is stored; the thread may be ended. */
  | { readonly kind: 'settled' }
  | { readonly kind: 'made'; readonly made: CastMade }
  | { readonly kind: 'refused'; readonly code: string; readonly problem: string; readonly remedy: string }
  | { readonly kind: 'fault'; readonly message: string; readonly stack: string };
