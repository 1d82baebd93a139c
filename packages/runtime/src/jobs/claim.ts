import { randomUUID } from 'node:crypto';
import { and, eq, sql } from 'drizzle-orm';
import type { JobProgress, StoredFile } from '../records/json-types.js';
import { jobs, lanes } from '../records/working-tables.js';
import { longestBackoff } from './limits.js';
import type { JobRow, JobsContext } from './jobs.js';

/** An instant so many milliseconds from now, by the database's clock: those of the workers may differ. */
export const fromNow = (ms: number) => sql`now() + make_interval(secs => ${ms / 1000})`;

/**
 * Whether a job's time to be taken has come. None waits longer than so: one that should came to wait under a clock that was
 * set back since.
 */
export const isDue = ({ backoffMs }: Pick<JobsContext, 'backoffMs'>) => sql<boolean>`not (${jobs.notBefore} > now() and ${jobs.notBefore} <= ${fromNow(longestBackoff(backoffMs))})`;

/** The next job: lower priority first, then the lane that waited longest for its turn, then the older job. */
export async function claim(context: JobsContext, worker: string): Promise<JobRow | null> {
  const { records, config } = context;
  return records.transaction(async (tx) => {
    const next = tx
      .select({ id: jobs.id }).from(jobs).innerJoin(lanes, eq(lanes.name, jobs.lane))
      .where(and(eq(jobs.state, 'waiting'), eq(lanes.paused, false), isDue(context)))
      .orderBy(jobs.priority, lanes.turn, jobs.createdAt, jobs.id).limit(1).for('update', { of: jobs, skipLocked: true });
    const [job] = await tx
      .update(jobs)
      .set({ state: 'running', worker, lease: randomUUID(), leaseUntil: fromNow(config.leaseMs), startedAt: sql`now()`, progress: null, preview: null })
      .where(eq(jobs.id, sql`(${next})`))
      .returning();
    if (job === undefined) return null;
    await tx.update(lanes).set({ turn: sql`(select max(turn) + 1 from lanes)` }).where(eq(lanes.name, job.lane));
    return job;
  });
}

/** Renews the lease; `cancel` where that was asked for, `lost` where the job is another's by now. */
export async function beat(
  { records, config, events }: JobsContext, job: JobRow, { progress, preview }: { progress?: JobProgress; preview?: readonly StoredFile[] } = {},
): Promise<'go-on' | 'cancel' | 'lost'> {
  const [row] = await records.db
    .update(jobs)
    .set({ leaseUntil: fromNow(config.leaseMs), ...(progress && { progress }), ...(preview && { preview }) })
    .where(and(eq(jobs.id, job.id), eq(jobs.state, 'running'), eq(jobs.lease, job.lease ?? '')))
    .returning({ cancelAsked: jobs.cancelAsked, progress: jobs.progress });
  if (row === undefined) return 'lost';
  if (row.progress !== null && (progress !== undefined || preview !== undefined)) events.emit('progress', { id: job.id, subjectId: job.subjectId, progress: row.progress });
  return row.cancelAsked ? 'cancel' : 'go-on';
}
