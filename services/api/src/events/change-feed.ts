import { asc, eq, gt, inArray, max } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { auditRows, batchItems, batches, casts, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { shownProgress } from '../routes/jobs/shown-progress.js';

/** One event: `seq` is the place in the audit log up to which a listener has seen everything; null for news that is not kept. */
export interface ChangeEvent {
  readonly seq: number | null;
  readonly event: 'job' | 'cast' | 'batch';
  readonly told: Readonly<Record<string, unknown>>;
}

/** What changes, for those who watch. The rows are looked at, so changes of other processes are seen too. */
export interface ChangeFeed {
  /** Calls `listener` with all that changes from now, or from after `since` on, and `closed` where the feed ends; gives how to end that. */
  listen(listener: (event: ChangeEvent) => void, since: number | null, closed: () => void): () => void;
  close(): void;
}

const LOOK_EVERY_MS = 500;
const AT_A_TIME = 500;
const WATCHED = ['casts', 'revisions', 'batches', 'batch_items'] as const;

export function openChangeFeed({ records, jobs: jobEvents, log }: Pick<Runtime, 'records' | 'jobs' | 'log'>): ChangeFeed {
  const { db } = records;
  const listeners = new Map<(event: ChangeEvent) => void, { seen: number | null; readonly closed: () => void }>();
  /** What was last told of each job that waits or runs. */
  let told = new Map<string, string>();
  let looking = false;
  let again = false;

  const look = async (): Promise<void> => {
    again = true;
    if (looking) return;
    looking = true;
    try {
      while (again && listeners.size > 0) {
        again = false;
        for (const [listener, state] of listeners) await tellChanges(listener, state);
        await tellProgress();
      }
    } catch (error) {
      log.warn({ err: error }, 'changes could not be looked at');
    } finally {
      looking = false;
    }
  };

  const tellChanges = async (listener: (event: ChangeEvent) => void, state: { seen: number | null }): Promise<void> => {
    if (state.seen === null) {
      const [{ last }] = await db.select({ last: max(auditRows.seq) }).from(auditRows);
      state.seen = last ?? 0;
      return;
    }
    const rows = await db.select().from(auditRows).where(gt(auditRows.seq, state.seen)).orderBy(asc(auditRows.seq)).limit(AT_A_TIME);
    if (rows.length === 0) return;
    // A change whose rows may not all be here is told of at the next look, unless it fills a look by itself.
    const last = rows[rows.length - 1].seq;
    const whole = rows.length < AT_A_TIME || rows[0].seq === last ? rows : rows.filter(({ seq }) => seq < last);
    const seq = whole[whole.length - 1].seq;
    for (const event of await eventsOf(whole)) listener({ ...event, seq });
    state.seen = seq;
    if (rows.length === AT_A_TIME) again = true;
  };

  const eventsOf = async (rows: readonly (typeof auditRows.$inferSelect)[]): Promise<Omit<ChangeEvent, 'seq'>[]> => {
    const idsOf = (table: (typeof WATCHED)[number]): string[] => [...new Set(rows.filter(({ tableName }) => tableName === table).map(({ rowId }) => rowId))];
    const [castIds, revisionIds, batchIds, itemIds] = WATCHED.map(idsOf);
    const out: Omit<ChangeEvent, 'seq'>[] = [];
    if (revisionIds.length > 0) out.push(...(await jobRows(inArray(jobs.subjectId, revisionIds))).map((job) => ({ event: 'job' as const, told: job })));
    if (castIds.length > 0) {
      const found = await db.select({ castId: casts.id, orderId: casts.orderId, state: casts.state, version: casts.version, currentRevisionId: casts.currentRevisionId }).from(casts).where(inArray(casts.id, castIds));
      out.push(...found.map((cast) => ({ event: 'cast' as const, told: cast })));
    }
    if (itemIds.length > 0) batchIds.push(...(await db.selectDistinct({ id: batchItems.batchId }).from(batchItems).where(inArray(batchItems.id, itemIds))).map(({ id }) => id));
    if (batchIds.length > 0) {
      const found = await db.select({ batchId: batches.id, state: batches.state, version: batches.version }).from(batches).where(inArray(batches.id, batchIds));
      out.push(...found.map((batch) => ({ event: 'batch' as const, told: batch })));
    }
    return out;
  };

  const jobRows = async (which: SQL) => {
    const rows = await db.select({ jobId: jobs.id, revisionId: jobs.subjectId, castId: revisions.castId, state: jobs.state, progress: jobs.progress, preview: jobs.preview })
      .from(jobs).innerJoin(revisions, eq(revisions.id, jobs.subjectId)).where(which).limit(AT_A_TIME);
    return rows.map(({ progress, preview, ...job }) => ({ ...job, ...shownProgress(progress), preview: (preview ?? []).map(({ name }) => name) }));
  };

  const tellProgress = async (): Promise<void> => {
    const now = new Map<string, string>();
    for (const job of await jobRows(eq(jobs.state, 'running'))) {
      const text = JSON.stringify(job);
      now.set(job.jobId, text);
      if (told.get(job.jobId) !== text) for (const listener of listeners.keys()) listener({ seq: null, event: 'job', told: job });
    }
    told = now;
  };

  const soon = (): void => void look();
  for (const event of ['progress', 'ended', 'waiting'] as const) jobEvents.events.on(event, soon);
  const looks = setInterval(soon, LOOK_EVERY_MS);
  looks.unref();
  return {
    listen: (listener, since, closed) => {
      listeners.set(listener, { seen: since, closed });
      soon();
      return () => void listeners.delete(listener);
    },
    close: () => {
      clearInterval(looks);
      for (const event of ['progress', 'ended', 'waiting'] as const) jobEvents.events.off(event, soon);
      for (const { closed } of listeners.values()) closed();
      listeners.clear();
    },
  };
}
