import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import { openStore } from './artifacts/open-store.js';
import type { Artifacts } from './artifacts/artifacts.js';
import type { Blobs } from './artifacts/blobs.js';
import type { Config } from './config.js';
import { openJobs } from './jobs/jobs.js';
import type { Jobs } from './jobs/jobs.js';
import { openRunner } from './jobs/open-runner.js';
import type { Runner } from './jobs/runner.js';
import type { Log } from './log.js';
import { clearAway } from './records/clear-away.js';
import { finishErasures } from './records/erase-customer.js';
import { openRecords } from './records/records.js';
import type { Records } from './records/records.js';
import { castWork } from './revisions/cast-work.js';
import { openCastThreads } from './revisions/cast-threads.js';
import { requeueLost } from './revisions/requeue-lost.js';
import { revisionEnded } from './revisions/revision-ended.js';

/** All that a program of the service stands on. */
export interface Runtime {
  readonly config: Config;
  readonly log: Log;
  readonly blobs: Blobs;
  readonly artifacts: Artifacts;
  readonly records: Records;
  readonly jobs: Jobs;
  readonly runner: Runner;
  /** Stops taking jobs, gives those that run `config.jobs.drainMs`, and lets go of everything. */
  close(): Promise<void>;
}

const CLEAR_EVERY_MS = 6 * 3_600_000;

/**
 * Opens records, files and jobs as the settings ask, and takes up jobs where casts are worked on in this process.
 * Throws ConfigError, FolderInUse, HistoriesDiffer, DamagedChangeFile, and what the servers say where they cannot be reached.
 */
export async function openRuntime(config: Config, log: Log): Promise<Runtime> {
  const { blobs, artifacts } = await openStore(config);
  const records = await openRecords({ config, log, blobs });
  try {
    const jobs = openJobs({ records, config: config.jobs, log, whenEnded: revisionEnded });
    const threads = openCastThreads({ store: config, cacheBytes: config.cacheBytes, limits: config.work, log });
    const worker = `${hostname()}-${process.pid}-${randomUUID().slice(0, 8)}`;
    const runner = openRunner(config, { jobs, work: castWork({ records, threads }), log, worker });
    // The one process that owns the folder has just begun: whoever ran a job before is dead.
    if (config.databaseUrl === null) await jobs.reconcile({ noneAlive: true });
    await requeueLost(records, jobs);
    const context = { records, artifacts, blobs };
    await finishErasures(context);
    const clearing = setInterval(() => {
      clearAway(context).catch((error: unknown) => log.warn({ err: error }, 'what is no longer needed was not cleared away'));
    }, CLEAR_EVERY_MS);
    clearing.unref();
    if (config.work.here) await runner.start();
    return {
      config, log, blobs, artifacts, records, jobs, runner,
      close: async () => {
        clearInterval(clearing);
        await runner.close();
        await threads.close();
        await records.close();
      },
    };
  } catch (error) {
    await records.close();
    throw error;
  }
}
