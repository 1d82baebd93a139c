import { and, eq, inArray, notExists } from 'drizzle-orm';
import type { Jobs } from '../jobs/jobs.js';
import { holdChain } from '../records/changes/catch-up.js';
import type { Records } from '../records/records.js';
import { revisions } from '../records/schema.js';
import { jobs as jobRows } from '../records/working-tables.js';
import { jobOf } from './request-revision.js';

/** Writes a job for every revision that waits for one and has none: where the database was made again, jobs are not among what comes back. How many. */
export async function requeueLost(records: Records, jobs: Jobs): Promise<number> {
  const after: (() => void)[] = [];
  const lost = await records.transaction(async (tx) => {
    // Of several processes that begin at once, the second finds the jobs of the first.
    await holdChain(tx);
    const active = tx.select({ id: jobRows.id }).from(jobRows).where(and(eq(jobRows.subjectId, revisions.id), inArray(jobRows.state, ['waiting', 'running'])));
    const rows = await tx.select().from(revisions).where(and(eq(revisions.state, 'waiting'), notExists(active))).orderBy(revisions.createdAt);
    for (const revision of rows) await jobs.enqueue({ tx, at: new Date().toISOString(), afterCommit: (run) => after.push(run) }, jobOf(revision));
    return rows.length;
  });
  for (const run of after) run();
  return lost;
}
