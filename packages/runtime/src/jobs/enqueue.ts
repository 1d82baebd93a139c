import { randomUUID } from 'node:crypto';
import type { ChangeDraft } from '../records/changes/change.js';
import { jobs, lanes } from '../records/working-tables.js';
import { fromNow } from './claim.js';
import type { JobsContext, NewJob } from './jobs.js';

/** Writes a job's row, in the transaction of what it is about; its id. */
export async function enqueue({ events }: JobsContext, { tx, at, afterCommit }: Pick<ChangeDraft, 'tx' | 'at' | 'afterCommit'>, job: NewJob): Promise<string> {
  const id = randomUUID();
  await tx.insert(lanes).values({ name: job.lane, turn: 0 }).onConflictDoNothing();
  await tx.insert(jobs).values({ id, ...job, state: 'waiting', notBefore: fromNow(0), createdAt: at, story: [] });
  afterCommit(() => events.emit('waiting', [{ id, turns: 0, priority: job.priority, delayMs: 0 }]));
  return id;
}
