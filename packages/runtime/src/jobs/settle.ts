import { and, eq } from 'drizzle-orm';
import type { ChangeDraft } from '../records/changes/change.js';
import type { StoryLine } from '../records/json-types.js';
import { jobs } from '../records/working-tables.js';
import { fromNow } from './claim.js';
import { LIMITS, backoffAfter } from './limits.js';
import type { JobEnd, JobRow, JobsContext } from './jobs.js';
import { PROGRAM } from '../records/changes/entry.js';


/** Thrown inside the change, so that nothing of it stays. */
class NoLongerOurs extends Error {}

/** Ends a job that runs, together with what its end means; false where it is no longer the one that was claimed. */
export async function finish(context: JobsContext, job: JobRow, end: JobEnd, story = job.story): Promise<boolean> {
  try {
    await context.records.change(PROGRAM, 'revision.ended', { table: 'revisions', id: job.subjectId }, async (draft) => {
      if (!(await endRow(context, draft, job, end, story))) throw new NoLongerOurs();
    });
    return true;
  } catch (error) {
    if (error instanceof NoLongerOurs) return false;
    throw error;
  }
}

/** Ends the row within a change, where it is still as it was read; whether it was. */
export async function endRow({ events, whenEnded }: JobsContext, draft: ChangeDraft, job: JobRow, end: JobEnd, story: readonly StoryLine[]): Promise<boolean> {
  const [ended] = await draft.tx
    .update(jobs)
    .set({ state: end.state, story, attempts: job.attempts, crashes: job.crashes, fault: job.fault, endedAt: draft.at, lease: null, leaseUntil: null })
    .where(and(eq(jobs.id, job.id), eq(jobs.state, job.state), ...(job.lease === null ? [] : [eq(jobs.lease, job.lease)])))
    .returning();
  if (ended === undefined) return false;
  await whenEnded(draft, ended, end);
  draft.afterCommit(() => events.emit('ended', { id: ended.id, subjectId: ended.subjectId, state: ended.state }));
  return true;
}

const DIED: ReadonlySet<StoryLine['what']> = new Set(['worker-died', 'out-of-memory', 'out-of-time', 'lease-ran-out']);

/** Ends a try of a job: a fault counts as an attempt, a worker's death as a crash, a drain as neither. */
export async function sendBack(context: JobsContext, job: JobRow, line: Omit<StoryLine, 'at' | 'worker'>): Promise<void> {
  const { records, events, log, backoffMs } = context;
  const story = [...job.story, { ...line, at: new Date().toISOString(), worker: job.worker }];
  const attempts = job.attempts + (line.what === 'fault' ? 1 : 0);
  const crashes = job.crashes + (DIED.has(line.what) ? 1 : 0);
  log.warn({ job: job.id, what: line.what, stage: line.stage, attempts, crashes }, 'a try of a job ended');
  const fault = line.what === 'fault' ? line.text : job.fault;
  const counted = { ...job, attempts, crashes, fault };
  const last = job.cancelAsked ? 'cancelled' : attempts >= LIMITS.attempts ? 'failed' : crashes >= LIMITS.crashes ? 'set-aside' : null;
  if (last !== null) {
    await finish(context, counted, { state: last }, story);
    return;
  }
  const delayMs = line.what === 'fault' ? backoffAfter(attempts, backoffMs) : 0;
  const [waiting] = await records.db
    .update(jobs)
    .set({ state: 'waiting', attempts, crashes, story, fault, turns: job.turns + 1, notBefore: fromNow(delayMs), worker: null, lease: null, leaseUntil: null, progress: null })
    .where(and(eq(jobs.id, job.id), eq(jobs.state, 'running'), eq(jobs.lease, job.lease ?? '')))
    .returning();
  if (waiting !== undefined) events.emit('waiting', [{ id: job.id, turns: waiting.turns, priority: job.priority, delayMs }]);
}
