import { and, eq, inArray } from 'drizzle-orm';
import { batchItems, revisions } from '@cast-to-last/runtime/records/schema';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownBatch } from './batches.js';

export const retryBatch = route({
  method: 'post', path: '/batches/:id/retry', summary: 'Makes the candidates anew that failed or were set aside; what was refused stays refused until cast, order or rules change.',
  handle: async ({ service: { runtime, batches: keeper }, by, params: { id } }) => {
    const batch = await runtime.records.change(by, 'batch.retried', { table: 'batches', id }, async (draft) => {
      const before = await draft.expect('batches', id);
      if (before.state === 'paused' || before.state === 'cancelled') throw conflict('batch-not-going', `The batch is ${before.state}.`, before.state === 'paused' ? 'Go on with it first.' : 'Begin another one.', { current: shownBatch(before) });
      const failed = await draft.tx.select({ revision: revisions }).from(batchItems).innerJoin(revisions, eq(revisions.id, batchItems.revisionId))
        .where(and(eq(batchItems.batchId, id), inArray(revisions.state, ['failed', 'set-aside'])));
      if (failed.length === 0) throw conflict('nothing-to-retry', 'No candidate of this batch failed.', 'Look at the list as it stands now.');
      for (const { revision: { castId, scanId, ruleSetId, decisionsId } } of failed) await requestRevision(draft, runtime.jobs, { castId, scanId, ruleSetId, decisionsId, origin: 'batch', batchId: id });
      return draft.put('batches', { ...before, state: 'running' });
    });
    keeper.wake();
    return { body: shownBatch(batch), version: batch.version };
  },
});
