import { parentPort, workerData } from 'node:worker_threads';
import { CastError } from '@cast-to-last/pipeline/errors';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import type { StoreConfig } from '@cast-to-last/runtime/artifacts/open-store';
import { openStageCache } from '@cast-to-last/runtime/revisions/stage-cache';
import { compareResults } from '../batches/compare-results.js';
import { compareStoredCasts } from './compare-stored-casts.js';
import { guessStoredSide } from './guess-stored-side.js';
import { drawStoredPicture } from './draw-stored-picture.js';
import { checkStoredGauge } from './check-stored-gauge.js';
import type { SentTask, TaskEnd } from './thread-task.js';

/** A worker thread: does one task after another, as it is told. */

const port = parentPort;
if (port === null) throw new Error('This file runs in a worker thread.');
const { store, cacheBytes } = workerData as { readonly store: StoreConfig; readonly cacheBytes: number };
const { blobs, artifacts } = await openStore(store);
const cache = openStageCache(blobs, cacheBytes);

function run(sent: SentTask): Promise<unknown> {
  switch (sent.kind) {
    case 'compare-results': return compareResults(artifacts, sent.task.before, sent.task.after);
    case 'compare-casts': return compareStoredCasts(artifacts, sent.task);
    case 'guess-side': return guessStoredSide(artifacts, cache, sent.task);
    case 'draw-picture': return drawStoredPicture(artifacts, sent.task);
    case 'check-scanner': return checkStoredGauge(artifacts, sent.task);
  }
}

function endOf(error: unknown): TaskEnd {
  if (error instanceof CastError) return { refused: { code: error.code, problem: error.problem, remedy: error.remedy } };
  const fault = error instanceof Error ? error : new Error(String(error));
  return { fault: { message: fault.message, stack: fault.stack ?? fault.message } };
}

port.on('message', (sent: SentTask) => {
  run(sent)
    .then((answer): TaskEnd => ({ answer }), endOf)
    .then((told) => port.postMessage(told))
    // What could not be stored beside the work is only slower the next time.
    .then(() => cache.settled())
    .catch(() => undefined);
});
