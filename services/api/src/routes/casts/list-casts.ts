import { and, eq, gte, inArray, lte, sql } from 'drizzle-orm';
import { z } from 'zod';
import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, customers, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { newestFirst, oneOrMore, pageOf, searchQuery } from '../../http/page.js';
import { route } from '../../http/route.js';
import { shownProgress } from '../jobs/shown-progress.js';
import { foundBy } from '../orders/found-by.js';
import { WAITS, waitsFor, waitsSince } from '../orders/waits-for.js';
import { CAST_STATES } from '@cast-to-last/runtime/records/states';

const verdicts = ['usable', 'usable-with-care', 'recast'] as const;

const query = z.strictObject({
  ...searchQuery, state: oneOrMore(CAST_STATES).optional(), side: z.enum(['left', 'right']).optional(), verdict: oneOrMore(verdicts).optional(),
  waits: oneOrMore(WAITS).optional(), discipline: z.string().min(1).max(60).optional(), order: z.uuid().optional(), customer: z.uuid().optional(),
});

const verdict = sql<string | null>`${revisions.summary} ->> 'verdict'`;

export const listCasts = route({
  method: 'get', path: '/casts', summary: 'Casts with what waits for whom, newest first. `state` and `verdict` take several, with commas; `search` looks in the numbers of order and customer and the customer\'s name.', query,
  handle: async ({ service: { runtime: { records: { db } } }, query: asked }) => {
    const { where, orderBy } = newestFirst(casts, asked);
    const waits = waitsFor(new Date().toISOString());
    const rows = await db
      .select({
        id: casts.id, version: casts.version, orderId: casts.orderId, orderNumber: orders.number, orderState: orders.state, discipline: orders.discipline,
        customerId: orders.customerId, customerNumber: customers.number, customerName: customers.name, side: casts.side, state: casts.state,
        arrivedAt: casts.arrivedAt, createdAt: casts.createdAt, changedAt: casts.changedAt, waits, waitingSince: waitsSince, currentRevisionId: casts.currentRevisionId, approvedRevisionId: casts.approvedRevisionId,
        verdict,
        asks: sql<number | null>`(${revisions.summary} -> 'marks' ->> 'ask')::integer`,
        warnings: sql<number | null>`jsonb_array_length(${revisions.summary} -> 'warnings')`,
      })
      .from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).leftJoin(customers, eq(customers.id, orders.customerId)).leftJoin(revisions, eq(revisions.id, casts.currentRevisionId))
      .where(and(
        where,
        asked.state === undefined ? undefined : inArray(casts.state, asked.state),
        asked.side === undefined ? undefined : eq(casts.side, asked.side),
        asked.verdict === undefined ? undefined : inArray(verdict, asked.verdict),
        asked.waits === undefined ? undefined : inArray(waits, asked.waits),
        asked.discipline === undefined ? undefined : eq(orders.discipline, asked.discipline),
        asked.order === undefined ? undefined : eq(casts.orderId, asked.order),
        asked.customer === undefined ? undefined : eq(orders.customerId, asked.customer),
        asked.from === undefined ? undefined : gte(sql`coalesce(${casts.arrivedAt}, ${casts.createdAt})`, asked.from),
        asked.to === undefined ? undefined : lte(sql`coalesce(${casts.arrivedAt}, ${casts.createdAt})`, asked.to),
        foundBy(asked.search),
      ))
      .orderBy(...orderBy).limit(asked.limit + 1);
    const ended = await lastJobsOf(db, rows.map(({ id }) => id));
    return { body: pageOf(rows, asked, (row) => ({ ...row, job: ended.get(row.id) ?? null })) };
  },
});

/** For each cast the job that waits or runs, else the last one where it came to no result, by the cast's id. */
export async function lastJobsOf(db: Db, castIds: readonly string[]) {
  const rows = castIds.length === 0 ? [] : await db
    .selectDistinctOn([revisions.castId], { castId: revisions.castId, id: jobs.id, revisionId: jobs.subjectId, state: jobs.state, progress: jobs.progress, fault: jobs.fault, refusal: revisions.refusal })
    .from(jobs).innerJoin(revisions, eq(revisions.id, jobs.subjectId))
    .where(and(inArray(revisions.castId, [...castIds]), eq(revisions.origin, 'person'))).orderBy(revisions.castId, sql`${jobs.state} in ('waiting', 'running') desc`, sql`${jobs.createdAt} desc`);
  return new Map(rows.filter(({ state }) => state !== 'done' && state !== 'cancelled').map(({ castId, progress, ...job }) => [castId, { ...job, ...shownProgress(progress) }]));
}
