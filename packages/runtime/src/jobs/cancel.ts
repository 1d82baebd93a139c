import { and, eq, inArray } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import type { ChangeDraft } from '../records/changes/change.js';
import type { Tx } from '../records/database.js';
import { jobs, lanes } from '../records/working-tables.js';
import type { JobsContext } from './jobs.js';
import { endRow } from './settle.js';

export const cancelJob = (context: JobsContext, draft: ChangeDraft, jobId: string): Promise<void> => cancelWhere(context, draft, eq(jobs.id, jobId));

export const cancelLane = (context: JobsContext, draft: ChangeDraft, lane: string): Promise<void> => cancelWhere(context, draft, eq(jobs.lane, lane));

/** Ends what waits; asks the worker of what runs to stop. What has ended is left as it is. */
async function cancelWhere(context: JobsContext, draft: ChangeDraft, which: SQL): Promise<void> {
  const rows = await draft.tx.select().from(jobs).where(and(which, inArray(jobs.state, ['waiting', 'running']))).for('update');
  for (const job of rows) {
    if (job.state === 'waiting') await endRow(context, draft, job, { state: 'cancelled' }, [...job.story, { at: draft.at, what: 'cancelled', worker: null, stage: null, text: 'Cancelled before it began.' }]);
    else await draft.tx.update(jobs).set({ cancelAsked: true }).where(eq(jobs.id, job.id));
  }
}

export async function setPaused(tx: Tx, lane: string, paused: boolean): Promise<void> {
  await tx.insert(lanes).values({ name: lane, turn: 0, paused }).onConflictDoUpdate({ target: lanes.name, set: { paused } });
}
