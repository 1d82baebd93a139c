import { and, eq, exists, gte, inArray, lte, sql } from 'drizzle-orm';
import { z } from 'zod';
import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, customers, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { newestFirst, oneOrMore, pageOf, searchQuery } from '../../http/page.js';
import { route } from '../../http/route.js';
import { lastJobsOf } from '../casts/list-casts.js';
import { foundBy } from './found-by.js';
import { shownOrder } from './shown-order.js';
import { CAST_STATES, ORDER_STATES } from '@cast-to-last/runtime/records/states';

const query = z.strictObject({
  ...searchQuery, state: oneOrMore(ORDER_STATES).optional(), castState: oneOrMore(CAST_STATES).optional(), side: z.enum(['left', 'right']).optional(),
  discipline: z.string().min(1).max(60).optional(), customer: z.uuid().optional(),
});

export const listOrders = route({
  method: 'get', path: '/orders', summary: 'Orders with their customer and casts, newest first. `castState` and `side` find orders that have such a cast; `search` looks in the numbers of order and customer and the customer\'s name.', query,
  handle: async ({ service: { runtime: { records: { db } } }, query: asked }) => {
    const { where, orderBy } = newestFirst(orders, asked);
    const hasCast = asked.castState === undefined && asked.side === undefined ? undefined : exists(db.select({ id: casts.id }).from(casts).where(and(
      eq(casts.orderId, orders.id),
      asked.castState === undefined ? undefined : inArray(casts.state, asked.castState),
      asked.side === undefined ? undefined : eq(casts.side, asked.side),
    )));
    const rows = await db.select({ order: orders, customerNumber: customers.number, customerName: customers.name }).from(orders).leftJoin(customers, eq(customers.id, orders.customerId))
      .where(and(
        where,
        asked.state === undefined ? undefined : inArray(orders.state, asked.state),
        hasCast,
        asked.discipline === undefined ? undefined : eq(orders.discipline, asked.discipline),
        asked.customer === undefined ? undefined : eq(orders.customerId, asked.customer),
        asked.from === undefined ? undefined : gte(orders.createdAt, asked.from),
        asked.to === undefined ? undefined : lte(orders.createdAt, asked.to),
        foundBy(asked.search),
      )).orderBy(...orderBy).limit(asked.limit + 1);
    const theirs = await castsOf(db, rows.map(({ order }) => order.id));
    return {
      body: pageOf(rows.map(({ order, ...customer }) => ({ ...order, customer })), asked, ({ customer, ...order }) => ({ ...shownOrder(order), ...customer, casts: theirs.get(order.id) ?? [] })),
    };
  },
});

/** The casts of each order in the order of their booking, with what a list shows of them. */
async function castsOf(db: Db, orderIds: readonly string[]) {
  const rows = orderIds.length === 0 ? [] : await db
    .select({
      orderId: casts.orderId, id: casts.id, version: casts.version, side: casts.side, state: casts.state, arrivedAt: casts.arrivedAt, recastOfId: casts.recastOfId,
      currentRevisionId: casts.currentRevisionId, verdict: sql<string | null>`${revisions.summary} ->> 'verdict'`, asks: sql<number | null>`(${revisions.summary} -> 'marks' ->> 'ask')::integer`,
    })
    .from(casts).leftJoin(revisions, eq(revisions.id, casts.currentRevisionId)).where(inArray(casts.orderId, [...orderIds])).orderBy(casts.createdAt, casts.id);
  const ended = await lastJobsOf(db, rows.map(({ id }) => id));
  const out = new Map<string, unknown[]>();
  for (const { orderId, ...cast } of rows) out.set(orderId, [...(out.get(orderId) ?? []), { ...cast, job: ended.get(cast.id) ?? null }]);
  return out;
}
