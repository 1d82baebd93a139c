import { and, eq, sql } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import type { Db, Tx } from '../records/database.js';
import { jobs, lanes } from '../records/working-tables.js';
import { isDue } from './claim.js';
import type { JobRow, JobsContext } from './jobs.js';

/** What a runner is told of a job that waits. */
export interface Ticket {
  readonly id: string;
  /** Rises each time that the job comes to wait. */
  readonly turns: number;
  readonly priority: number;
  readonly delayMs: number;
}

/** Told of at one look; the others follow at the next, when these are fewer. */
const AT_A_TIME = 2000;

/** When the lease of each job that runs was first seen as it is now, by a clock that nobody sets. */
export type LeasesSeen = Map<string, { readonly leaseUntil: string; readonly since: number }>;

/**
 * Running jobs whose worker no longer speaks: their lease ran out, and it was not renewed since this process saw it first,
 * though there was time to; or it was not renewed for as long as it holds, whatever the clock says. A clock that is set
 * thus takes no job from a worker that lives, and keeps none with one that died.
 */
export async function silent({ records: { db }, config: { leaseMs }, leasesSeen }: JobsContext): Promise<JobRow[]> {
  const rows = await db.select({ job: jobs, ranOut: sql<boolean>`${jobs.leaseUntil} < now()` }).from(jobs).where(eq(jobs.state, 'running'));
  const now = performance.now();
  const before = new Map(leasesSeen);
  leasesSeen.clear();
  return rows.flatMap(({ job, ranOut }) => {
    const leaseUntil = job.leaseUntil ?? '';
    const seen = before.get(job.id);
    const since = seen?.leaseUntil === leaseUntil ? seen.since : now;
    leasesSeen.set(job.id, { leaseUntil, since });
    return now - since >= (ranOut ? renewedWithin(leaseMs) : leaseMs) ? [job] : [];
  });
}

/** A worker that lives renews its lease several times in this time. */
const renewedWithin = (leaseMs: number): number => Math.min(leaseMs, 5 * beatEvery(leaseMs));

/** How often a worker renews its lease. */
export const beatEvery = (leaseMs: number): number => Math.min(1000, leaseMs / 3);

export const held = (db: Db): Promise<JobRow[]> => db.select().from(jobs).where(eq(jobs.state, 'running'));

/** Jobs that wait in lanes that go, in the order in which they will be taken. */
export async function readyTickets(context: Pick<JobsContext, 'backoffMs'>, db: Db | Tx, which: SQL): Promise<Ticket[]> {
  return db
    .select({
      id: jobs.id, turns: jobs.turns, priority: jobs.priority,
      delayMs: sql<number>`case when ${isDue(context)} then 0 else ceil(extract(epoch from ${jobs.notBefore} - now()) * 1000) end`.mapWith(Number),
    })
    .from(jobs).innerJoin(lanes, eq(lanes.name, jobs.lane))
    .where(and(eq(jobs.state, 'waiting'), eq(lanes.paused, false), which))
    .orderBy(jobs.priority, jobs.createdAt).limit(AT_A_TIME);
}
