import { and, eq, sql } from 'drizzle-orm';
import { z } from 'zod';
import { batchItems, casts, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { route } from '../../http/route.js';

/** What a row shows changed last: the item itself, its candidate, or its cast. */
const seenAt = sql<string>`greatest(${batchItems.changedAt}, ${revisions.changedAt}, ${casts.changedAt})`.mapWith((at: string | Date) => new Date(at).toISOString());

export const listBatchItems = route({
  method: 'get', path: '/batches/:id/items', summary: 'Per cast of a batch: its candidate, what it changes of the present result, or why there is none; with `changedAfter` those that changed since.',
  query: z.strictObject({ ...pageQuery, changedAfter: instantText.optional() }),
  handle: async ({ service: { runtime: { records: { db } } }, params: { id }, query }) => {
    const { where, orderBy } = newestFirst(batchItems, query);
    const rows = await db
      .select({
        id: batchItems.id, version: batchItems.version, createdAt: batchItems.createdAt, castId: batchItems.castId, revisionId: batchItems.revisionId, againstId: batchItems.againstId,
        comparison: batchItems.comparison, verdict: batchItems.verdict, orderId: casts.orderId, orderNumber: orders.number, side: casts.side, state: revisions.state, refusal: revisions.refusal, story: revisions.story,
        castState: casts.state, seenAt, approved: sql<boolean>`${casts.approvedRevisionId} is not null`,
        overtaken: sql<boolean>`${batchItems.verdict} is null and (${casts.state} = 'in-work' or coalesce(${casts.approvedRevisionId}, ${casts.currentRevisionId}) is distinct from ${batchItems.againstId})`,
      })
      .from(batchItems).leftJoin(casts, eq(casts.id, batchItems.castId)).leftJoin(orders, eq(orders.id, casts.orderId)).leftJoin(revisions, eq(revisions.id, batchItems.revisionId))
      .where(and(eq(batchItems.batchId, id), where, query.changedAfter === undefined ? undefined : sql`${seenAt} > ${query.changedAfter}`)).orderBy(...orderBy).limit(query.limit + 1);
    return { body: pageOf(rows, query, (row) => row) };
  },
});
