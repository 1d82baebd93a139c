import { and, eq } from 'drizzle-orm';
import { z } from 'zod';
import { batchItems, casts, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { route } from '../../http/route.js';

export const listBatchItems = route({
  method: 'get', path: '/batches/:id/items', summary: 'Per cast of a batch: its candidate, what it changes of the present result, or why there is none.', query: z.strictObject(pageQuery),
  handle: async ({ service: { runtime: { records: { db } } }, params: { id }, query }) => {
    const { where, orderBy } = newestFirst(batchItems, query);
    const rows = await db
      .select({
        id: batchItems.id, version: batchItems.version, createdAt: batchItems.createdAt, castId: batchItems.castId, revisionId: batchItems.revisionId, againstId: batchItems.againstId,
        comparison: batchItems.comparison, verdict: batchItems.verdict, orderNumber: orders.number, side: casts.side, state: revisions.state, refusal: revisions.refusal,
      })
      .from(batchItems).leftJoin(casts, eq(casts.id, batchItems.castId)).leftJoin(orders, eq(orders.id, casts.orderId)).leftJoin(revisions, eq(revisions.id, batchItems.revisionId))
      .where(and(eq(batchItems.batchId, id), where)).orderBy(...orderBy).limit(query.limit + 1);
    return { body: pageOf(rows, query, (row) => row) };
  },
});
