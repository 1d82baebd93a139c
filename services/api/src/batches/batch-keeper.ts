import { randomUUID } from 'node:crypto';
import { and, eq, isNull, or } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import { NoSuchRecord } from '@cast-to-last/runtime/records/changes/change';
import { batchItems, batches, casts, revisions } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import type { TaskThread } from '../threads/task-thread.js';
import { PROGRAM } from '@cast-to-last/runtime/records/changes/entry';

/** Takes batches to their end, from wherever they are: asks for the candidates, compares those that are made, ends the batch. */
export interface BatchKeeper {
  /** Looks soon. */
  wake(): void;
  close(): Promise<void>;
}

const LOOK_EVERY_MS = 2000;
/** Casts in one change. */
const AT_A_TIME = 25;

export function openBatchKeeper({ records, jobs, log }: Pick<Runtime, 'records' | 'jobs' | 'log'>, thread: TaskThread): BatchKeeper {
  const { db } = records;
  let open = true;
  let again = false;
  let working: Promise<void> | null = null;

  const work = async (): Promise<void> => {
    while (again && open) {
      again = false;
      for (const batch of await db.select().from(batches).where(eq(batches.state, 'running'))) await keep(batch);
    }
  };

  const keep = async (batch: RowOf<'batches'>): Promise<void> => {
    if (await askNext(batch)) {
      again = true;
      return;
    }
    await compareMade(batch.id);
    if (await hasEnded(batch.id)) {
      await records.change(PROGRAM, 'batch.ended', { table: 'batches', id: batch.id }, async (draft) => {
        const now = await draft.expect('batches', batch.id);
        if (now.state === 'running') await draft.put('batches', { ...now, state: 'ended' });
      });
    }
  };

  /** Asks for the next candidates; whether there may be more. */
  const askNext = async (batch: RowOf<'batches'>): Promise<boolean> => {
    const wanted = batch.filter.castIds as readonly string[];
    const there = new Set((await db.select({ castId: batchItems.castId }).from(batchItems).where(eq(batchItems.batchId, batch.id))).map(({ castId }) => castId));
    const next = wanted.filter((castId) => !there.has(castId)).slice(0, AT_A_TIME);
    if (next.length === 0) return false;
    await records.change({ kind: 'person', id: batch.personId }, 'batch.asked', { table: 'batches', id: batch.id }, async (draft) => {
      if ((await draft.expect('batches', batch.id)).state !== 'running') return;
      for (const castId of next) {
        const [cast] = await draft.tx.select().from(casts).where(eq(casts.id, castId));
        const againstId = cast?.approvedRevisionId ?? cast?.currentRevisionId ?? null;
        // Erased meanwhile: an item without a result keeps it from being asked again.
        const revisionId = againstId === null ? null : await candidateOf(draft, againstId, batch);
        await draft.put('batch_items', { id: randomUUID(), batchId: batch.id, castId, revisionId, againstId });
      }
    });
    return true;
  };

  const candidateOf = async (draft: Parameters<typeof requestRevision>[0], againstId: string, batch: RowOf<'batches'>): Promise<string | null> => {
    try {
      const { castId, scanId, decisionsId } = await draft.expect('revisions', againstId);
      return (await requestRevision(draft, jobs, { castId, scanId, decisionsId, ruleSetId: batch.ruleSetId, origin: 'batch', batchId: batch.id })).id;
    } catch (error) {
      if (error instanceof NoSuchRecord) return null;
      throw error;
    }
  };

  const compareMade = async (batchId: string): Promise<void> => {
    const against = alias(revisions, 'against');
    const made = await db.select({ item: batchItems, after: revisions.files, before: against.files }).from(batchItems)
      .innerJoin(revisions, eq(revisions.id, batchItems.revisionId)).innerJoin(against, eq(against.id, batchItems.againstId))
      .where(and(eq(batchItems.batchId, batchId), isNull(batchItems.comparison), eq(revisions.state, 'done'))).limit(AT_A_TIME);
    for (const { item, before, after } of made) {
      if (!open) return;
      const comparison = await thread.run('compare-results', { before, after }).catch((error: unknown) => {
        log.warn({ err: error, item: item.id }, 'two results could not be compared');
        return { problem: 'The results could not be compared; their files may be damaged.' };
      });
      await records.change(PROGRAM, 'batch.compared', { table: 'batch_items', id: item.id }, async (draft) => {
        await draft.put('batch_items', { ...(await draft.expect('batch_items', item.id)), comparison: { ...comparison } });
      });
      again = true;
    }
  };

  /** Whether every candidate came to its end and is compared where it was made. */
  const hasEnded = async (batchId: string): Promise<boolean> => {
    const left = await db.select({ id: batchItems.id }).from(batchItems).innerJoin(revisions, eq(revisions.id, batchItems.revisionId))
      .where(and(eq(batchItems.batchId, batchId), or(eq(revisions.state, 'waiting'), and(eq(revisions.state, 'done'), isNull(batchItems.comparison))))).limit(1);
    return left.length === 0;
  };

  const wake = (): void => {
    again = true;
    working ??= work()
      .catch((error: unknown) => log.error({ err: error }, 'a batch could not be kept going; the next look does so'))
      .finally(() => {
        working = null;
      });
  };
  jobs.events.on('ended', wake);
  const looks = setInterval(wake, LOOK_EVERY_MS);
  looks.unref();
  wake();
  return {
    wake,
    close: async () => {
      open = false;
      clearInterval(looks);
      jobs.events.off('ended', wake);
      await thread.close();
      await working;
    },
  };
}
