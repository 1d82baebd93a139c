import { and, eq, sql } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import type { Db, Tx } from '../records/database.js';
import { jobs, lanes } from '../records/working-tables.js';
import type { JobRow } from './jobs.js';

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

/** Running jobs whose lease ran out; all that run where no worker can be alive. */
export const ranOut = (db: Db, noneAlive: boolean): Promise<JobRow[]> =>
  db.select().from(jobs).where(and(eq(jobs.state, 'running'), noneAlive ? undefined : sql`${jobs.leaseUntil} < now()`));

/** Jobs that wait in lanes that go, in the order in which they will be taken. */
export async function readyTickets(db: Db | Tx, which: SQL): Promise<Ticket[]> {
  return db
    .select({
      id: jobs.id, turns: jobs.turns, priority: jobs.priority,
      delayMs: sql<number>`greatest(0, ceil(extract(epoch from ${jobs.notBefore} - now()) * 1000))`.mapWith(Number),
    })
    .from(jobs).innerJoin(lanes, eq(lanes.name, jobs.lane))
    .where(and(eq(jobs.state, 'waiting'), eq(lanes.paused, false), which))
    .orderBy(jobs.priority, jobs.createdAt).limit(AT_A_TIME);
}
