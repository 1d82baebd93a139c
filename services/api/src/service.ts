import type { Runtime } from '@cast-to-last/runtime/runtime';
import type { BatchKeeper } from './batches/batch-keeper.js';
import type { ChangeFeed } from './events/change-feed.js';
import type { Metrics } from './http/metrics.js';
import type { TaskThread } from './threads/task-thread.js';

/** What every route may reach. */
export interface Service {
  readonly runtime: Runtime;
  readonly metrics: Metrics;
  readonly feed: ChangeFeed;
  readonly batches: BatchKeeper;
  /** Geometry that a person waits for; batches have a thread of their own. */
  readonly geometry: TaskThread;
  /** Folder of the sample orders and scans; null where the service was started without. */
  readonly samples: string | null;
  /** The OpenAPI document. */
  readonly description: Readonly<Record<string, unknown>>;
  /** Whether browsers reach the service by https: cookies are then sent over nothing else. */
  readonly secure: boolean;
}
