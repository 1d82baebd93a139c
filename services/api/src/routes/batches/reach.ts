import { and, avg, count, eq, gte, isNotNull, sql } from 'drizzle-orm';
import { z } from 'zod';
import { casts, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { batchFilter, filtered } from '../../batches/batch-filter.js';
import { route } from '../../http/route.js';

/** Jobs of so many days say how long a cast takes. */
const RECENT_DAYS = 30;

export const readReach = route({
  method: 'post', path: '/batches/reach', summary: 'How many casts a batch over this filter would take, before it is begun; how many are approved, and how many have a result by these rules already.',
  body: z.strictObject({ filter: batchFilter, rulesId: z.uuid().optional() }),
  handle: async ({ service: { runtime: { records: { db } } }, body: { filter, rulesId } }) => {
    const [counted] = await db
      .select({
        casts: count(), approved: count(casts.approvedRevisionId), byThese: sql<number>`count(*) filter (where ${revisions.ruleSetId} = ${rulesId ?? null})`.mapWith(Number),
      })
      .from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).leftJoin(revisions, eq(revisions.id, sql`coalesce(${casts.approvedRevisionId}, ${casts.currentRevisionId})`)).where(filtered(filter));
    const disciplines = await db.select({ name: orders.discipline, casts: count(casts.currentRevisionId) }).from(orders).leftJoin(casts, eq(casts.orderId, orders.id))
      .where(isNotNull(orders.discipline)).groupBy(orders.discipline).orderBy(orders.discipline);
    const since = new Date(Date.now() - RECENT_DAYS * 86_400_000).toISOString();
    const [{ seconds }] = await db.select({ seconds: avg(sql`extract(epoch from ${jobs.endedAt} - ${jobs.startedAt})`) }).from(jobs).where(and(eq(jobs.state, 'done'), gte(jobs.endedAt, since)));
    return { body: { ...counted, disciplines, secondsEach: seconds === null ? null : Number(seconds) } };
  },
});
