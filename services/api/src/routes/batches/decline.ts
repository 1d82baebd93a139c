import { and, eq, inArray, isNull } from 'drizzle-orm';
import { z } from 'zod';
import { batchItems } from '@cast-to-last/runtime/records/schema';
import { route } from '../../http/route.js';

const body = z.strictObject({ itemIds: z.array(z.uuid()).min(1).max(500) });

export const declineItems = route({
  method: 'post', path: '/batches/:id/decline', summary: 'Leaves the casts of these items as they are: their candidates are not taken.', body,
  handle: async ({ service: { runtime: { records } }, by, params: { id }, body: { itemIds } }) => {
    const declined = await records.change(by, 'batch.declined', { table: 'batches', id }, async (draft) => {
      await draft.expect('batches', id);
      const open = await draft.tx.select().from(batchItems).where(and(eq(batchItems.batchId, id), isNull(batchItems.verdict), inArray(batchItems.id, itemIds)));
      for (const item of open) await draft.put('batch_items', { ...item, verdict: 'declined' });
      return open.map((item) => item.id);
    });
    return { body: { declined } };
  },
});

export const reopenItems = route({
  method: 'post', path: '/batches/:id/reopen', summary: 'Lays declined items before the maker again; what was accepted stays accepted.', body,
  handle: async ({ service: { runtime: { records } }, by, params: { id }, body: { itemIds } }) => {
    const reopened = await records.change(by, 'batch.reopened', { table: 'batches', id }, async (draft) => {
      await draft.expect('batches', id);
      const declined = await draft.tx.select().from(batchItems).where(and(eq(batchItems.batchId, id), eq(batchItems.verdict, 'declined'), inArray(batchItems.id, itemIds)));
      for (const item of declined) await draft.put('batch_items', { ...item, verdict: null });
      return declined.map((item) => item.id);
    });
    return { body: { reopened } };
  },
});
