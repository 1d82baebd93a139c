import { parentPort, workerData } from 'node:worker_threads';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import type { StoreConfig } from '@cast-to-last/runtime/artifacts/open-store';
import { compareResults } from './compare-results.js';
import type { ToCompare } from './compare-pool.js';

/** A worker thread: compares one pair of results after another, as it is told. */

const port = parentPort;
if (port === null) throw new Error('This file runs in a worker thread.');
const { artifacts } = await openStore(workerData as StoreConfig);

port.on('message', ({ before, after }: ToCompare) => {
  compareResults(artifacts, before, after).then(
    (comparison) => port.postMessage({ comparison }),
    (error: unknown) => port.postMessage({ error: error instanceof Error ? error.message : String(error) }),
  );
});
