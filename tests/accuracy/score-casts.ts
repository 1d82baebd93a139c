import { bookCast } from './cast-scores.js';
import type { Setting } from './whole-surface/filters.js';

/** A process that scores casts for the accuracy book: takes one message with the seeds, sends one a cast, ends. */
process.once('message', ({ seeds, triangles, setting }: { readonly seeds: readonly number[]; readonly triangles: number; readonly setting: Setting }) => {
  void (async () => {
    for (const seed of seeds) process.send?.(await bookCast(seed, triangles, setting));
    process.disconnect();
  })();
});
