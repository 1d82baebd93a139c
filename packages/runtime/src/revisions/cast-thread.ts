import { parentPort, workerData } from 'node:worker_threads';
import { CastError } from '@cast-to-last/pipeline/errors';
import { openStore } from '../artifacts/open-store.js';
import type { CastTask } from './cast-task.js';
import { makeCast } from './make-cast.js';
import { openStageCache } from './stage-cache.js';
import type { FromThread, ThreadSettings } from './thread-messages.js';

/** A worker thread: makes one cast after another, as it is told. */

const port = parentPort;
if (port === null) throw new Error('This file runs in a worker thread.');
const settings = workerData as ThreadSettings;
const say = (message: FromThread): void => port.postMessage(message);

const { blobs, artifacts } = await openStore(settings.store);
const cache = openStageCache(blobs, settings.cacheBytes);

port.on('message', (task: CastTask) => {
  makeCast(task, { artifacts, cache, progress: (progress) => say({ kind: 'progress', progress }), preview: (files) => say({ kind: 'preview', files }) })
    .then((made) => say({ kind: 'made', made }), (error: unknown) => say(refusalOrFault(error)))
    .then(async () => {
      for (const error of await cache.settled()) say({ kind: 'warning', text: `A stage's result was not stored: ${String(error)}` });
    })
    .catch((error: unknown) => say({ kind: 'warning', text: String(error) }))
    .finally(() => say({ kind: 'settled' }));
});

function refusalOrFault(error: unknown): FromThread {
  if (error instanceof CastError) return { kind: 'refused', code: error.code, problem: error.problem, remedy: error.remedy };
  const fault = error instanceof Error ? error : new Error(String(error));
  return { kind: 'fault', message: fault.message, stack: fault.stack ?? fault.message };
}
