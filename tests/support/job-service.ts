import { setTimeout as wait } from 'node:timers/promises';
import { eq } from 'drizzle-orm';
import { onTestFinished } from 'vitest';
import { openBullRunner } from '@cast-to-last/runtime/jobs/bull-runner';
import { openJobs } from '@cast-to-last/runtime/jobs/jobs';
import type { JobEnd, JobRow, Jobs } from '@cast-to-last/runtime/jobs/jobs';
import { PRIORITY } from '@cast-to-last/runtime/jobs/limits';
import { openLocalRunner } from '@cast-to-last/runtime/jobs/local-runner';
import type { Runner, Work } from '@cast-to-last/runtime/jobs/runner';
import type { Records } from '@cast-to-last/runtime/records/records';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import type { BothServers } from './both-servers.js';
import { openCommonRecords, openTestRecords } from './open-records.js';
import { QUIET } from './quiet-log.js';
import { temporaryFolder } from './temporary-folder.js';
import { MAKER } from './workshop-records.js';

export const LEASE_MS = 1500;

/** A service of its own: its records, its jobs, and what became of their subjects, in the order of their ends. */
export interface JobService {
  readonly records: Records;
  readonly jobs: Jobs;
  readonly ended: { readonly subject: string; readonly end: JobEnd }[];
  /** How often the end of a subject's job cannot be written yet, as on a disk that is full for a moment. */
  readonly hindered: Map<string, number>;
  enqueue(subjectId: string, options?: { lane?: string; priority?: number }): Promise<string>;
  run(work: Work, options?: { slots?: number; drainMs?: number; worker?: string }): Promise<Runner>;
  row(id: string): Promise<JobRow>;
  /** Waits until each of these jobs is in such a state. */
  reach(ids: readonly string[], ...states: JobRow['state'][]): Promise<void>;
}

let queues = 0;

/** Opens one on the database and the runner that are named as the tests name them. */
export async function openJobService(database: string, runner: string, servers: () => BothServers): Promise<JobService> {
  const records = database === 'the data folder' ? await openCommonRecords() : await openTestRecords(temporaryFolder(), await servers().postgres.newDatabase());
  const ended: JobService['ended'] = [];
  const hindered: JobService['hindered'] = new Map();
  const jobs = openJobs({
    records, config: { leaseMs: LEASE_MS }, log: QUIET, backoffMs: 40,
    whenEnded: async (draft, job, end) => {
      const left = hindered.get(job.subjectId) ?? 0;
      if (left > 0) {
        hindered.set(job.subjectId, left - 1);
        throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' });
      }
      ended.push({ subject: job.subjectId, end });
      await draft.put('customers', { id: job.subjectId, number: job.subjectId, name: end.state });
    },
  });
  const queue = `test-${process.pid}-${++queues}`;
  const row = async (id: string): Promise<JobRow> => (await records.db.select().from(jobRows).where(eq(jobRows.id, id)))[0];
  return {
    records, jobs, ended, hindered, row,
    enqueue: (subjectId, { lane = 'people', priority = PRIORITY.person } = {}) =>
      records.change(MAKER, 'revision.asked', { table: 'customers', id: subjectId }, async (draft) => {
        await draft.put('customers', { id: subjectId, number: subjectId });
        return jobs.enqueue(draft, { kind: 'cast', subjectId, lane, priority });
      }),
    run: async (work, { slots = 1, drainMs = 5000, worker = 'worker-1' } = {}) => {
      const options = { jobs, work, log: QUIET, worker, slots, config: { leaseMs: LEASE_MS, reconcileMs: 400, drainMs } };
      const opened = runner === 'in this process' ? openLocalRunner(options) : openBullRunner({ ...options, redisUrl: servers().redis.url, queue });
      onTestFinished(() => opened.close());
      await opened.start();
      return opened;
    },
    reach: async (ids, ...states) => {
      for (const id of ids) while (!states.includes((await row(id)).state)) await wait(15);
    },
  };
}
