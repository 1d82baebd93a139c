import { and, count, eq, exists, inArray, ne, not, or, sql } from 'drizzle-orm';
import { z } from 'zod';
import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, customers, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { route } from '../../http/route.js';
import { shownProgress } from '../jobs/shown-progress.js';
import { foundBy } from './found-by.js';
import { WAITS, newestRevisionId, waitsFor, waitsSince } from './waits-for.js';

const query = z.strictObject({ ...pageQuery, order: z.uuid().optional(), waits: z.enum(WAITS).optional(), search: z.string().trim().min(1).max(100).optional() });

export const listArrivals = route({
  method: 'get', path: '/arrivals', summary: 'Orders with what each of their casts waits for, newest first; `waits`: those that have a cast that does. Without it, those that still wait for something.', query,
  handle: async ({ service: { runtime: { records: { db } } }, query: asked }) => {
    const waits = waitsFor(new Date().toISOString());
    const { where, orderBy } = newestFirst(orders, asked);
    const found = foundBy(asked.search);
    const theirs = db.select({ one: sql`1` }).from(casts).where(and(eq(casts.orderId, orders.id), asked.waits === undefined ? undefined : eq(waits, asked.waits)));
    const open = db.select({ one: sql`1` }).from(casts).where(and(eq(casts.orderId, orders.id), not(inArray(waits, ['done', 'replaced']))));
    const rows = await db
      .select({ id: orders.id, number: orders.number, state: orders.state, discipline: orders.discipline, createdAt: orders.createdAt, customerId: customers.id, customerNumber: customers.number, customerName: customers.name, sides: sql<readonly string[] | null>`${orders.content} -> 'sides'` })
      .from(orders).leftJoin(customers, eq(customers.id, orders.customerId))
      .where(and(
        where, asked.order === undefined ? undefined : eq(orders.id, asked.order),
        found === undefined && asked.order === undefined ? ne(orders.state, 'cancelled') : found,
        // What is asked for by name or number is found even where it is done.
        asked.waits !== undefined ? exists(theirs) : found !== undefined || asked.order !== undefined ? undefined : or(exists(open), and(eq(orders.state, 'open'), not(exists(theirs)))),
      )).orderBy(...orderBy).limit(asked.limit + 1);
    const castsOf = await shownCasts(db, rows.map(({ id }) => id));
    return { body: pageOf(rows, asked, ({ customerId, customerNumber, customerName, sides, ...order }) => ({
      ...order, sides: sides ?? ['left', 'right'], customer: customerId === null ? null : { id: customerId, number: customerNumber, name: customerName }, casts: castsOf.get(order.id) ?? [],
    })) };
  },
});

async function shownCasts(db: Db, orderIds: readonly string[]): Promise<Map<string, object[]>> {
  const byOrder = new Map<string, object[]>();
  if (orderIds.length === 0) return byOrder;
  const rows = await db
    .select({
      id: casts.id, orderId: casts.orderId, side: casts.side, state: casts.state, arrivedAt: casts.arrivedAt, drying: casts.drying, recastOfId: casts.recastOfId,
      waits: waitsFor(new Date().toISOString()), since: waitsSince, currentRevisionId: casts.currentRevisionId, newestRevisionId,
      verdict: sql<string | null>`${revisions.summary} ->> 'verdict'`, asks: sql<number | null>`(${revisions.summary} -> 'marks' ->> 'ask')::integer`,
    })
    .from(casts).leftJoin(revisions, eq(revisions.id, casts.currentRevisionId)).where(inArray(casts.orderId, [...orderIds])).orderBy(casts.side, casts.createdAt);
  const stages = await stagesOf(db, rows.filter(({ state }) => state === 'in-work').map(({ id }) => id));
  for (const { orderId, ...cast } of rows) byOrder.set(orderId, [...(byOrder.get(orderId) ?? []), { ...cast, job: stages.get(cast.id) ?? null }]);
  return byOrder;
}

async function stagesOf(db: Db, castIds: readonly string[]): Promise<Map<string, object>> {
  if (castIds.length === 0) return new Map();
  const rows = await db.select({ castId: revisions.castId, id: jobs.id, state: jobs.state, progress: jobs.progress }).from(jobs).innerJoin(revisions, eq(revisions.id, jobs.subjectId))
    .where(and(inArray(revisions.castId, [...castIds]), eq(revisions.origin, 'person'), inArray(jobs.state, ['waiting', 'running']))).orderBy(jobs.createdAt);
  return new Map(rows.map(({ castId, progress, ...job }) => [castId, { ...job, ...shownProgress(progress) }]));
}

export const countArrivals = route({
  method: 'get', path: '/arrivals/counts', summary: 'How many casts wait for what; those of cancelled orders are not counted.',
  handle: async ({ service: { runtime: { records: { db } } } }) => {
    const waits = waitsFor(new Date().toISOString());
    const counted = db.select({ waits: waits.as('waits') }).from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).where(ne(orders.state, 'cancelled')).as('counted');
    const rows = await db.select({ waits: counted.waits, n: count() }).from(counted).groupBy(counted.waits);
    return { body: { ...Object.fromEntries(WAITS.map((name) => [name, 0])), ...Object.fromEntries(rows.map(({ waits: name, n }) => [name, n])) } };
  },
});
