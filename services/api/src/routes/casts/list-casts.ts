import { and, eq, ilike, inArray, sql } from 'drizzle-orm';
import { z } from 'zod';
import type { Db } from '@cast-to-last/runtime/records/database';
import { casts, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { anywhere, newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { route } from '../../http/route.js';

export const castStates = ['awaiting-scan', 'in-work', 'to-review', 'approved', 'sent-back', 'recast'] as const;

const query = z.strictObject({
  ...pageQuery, state: z.enum(castStates).optional(), side: z.enum(['left', 'right']).optional(), order: z.uuid().optional(), search: z.string().min(1).max(100).optional(),
});

export const listCasts = route({
  method: 'get', path: '/casts', summary: 'Casts with what waits for whom, newest first.', query,
  handle: async ({ service: { runtime: { records: { db } } }, query: asked }) => {
    const { where, orderBy } = newestFirst(casts, asked);
    const rows = await db
      .select({
        id: casts.id, version: casts.version, orderId: casts.orderId, orderNumber: orders.number, discipline: orders.discipline, side: casts.side, state: casts.state,
        arrivedAt: casts.arrivedAt, createdAt: casts.createdAt, changedAt: casts.changedAt, currentRevisionId: casts.currentRevisionId, approvedRevisionId: casts.approvedRevisionId,
        verdict: sql<string | null>`${revisions.summary} ->> 'verdict'`,
        asks: sql<number | null>`(${revisions.summary} -> 'marks' ->> 'ask')::integer`,
        warnings: sql<number | null>`jsonb_array_length(${revisions.summary} -> 'warnings')`,
      })
      .from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).leftJoin(revisions, eq(revisions.id, casts.currentRevisionId))
      .where(and(
        where,
        asked.state === undefined ? undefined : eq(casts.state, asked.state),
        asked.side === undefined ? undefined : eq(casts.side, asked.side),
        asked.order === undefined ? undefined : eq(casts.orderId, asked.order),
        asked.search === undefined ? undefined : ilike(orders.number, anywhere(asked.search)),
      ))
      .orderBy(...orderBy).limit(asked.limit + 1);
    const running = await jobsOf(db, rows.map(({ id }) => id));
    return { body: pageOf(rows, asked, (row) => ({ ...row, job: running.get(row.id) ?? null })) };
  },
});

/** The job that waits or runs for each cast, by the cast's id. */
async function jobsOf(db: Db, castIds: readonly string[]): Promise<Map<string, unknown>> {
  if (castIds.length === 0) return new Map();
  const rows = await db.select({ castId: revisions.castId, id: jobs.id, revisionId: jobs.subjectId, state: jobs.state, progress: jobs.progress })
    .from(jobs).innerJoin(revisions, eq(revisions.id, jobs.subjectId))
    .where(and(inArray(revisions.castId, [...castIds]), inArray(jobs.state, ['waiting', 'running']))).orderBy(jobs.createdAt);
  return new Map(rows.map(({ castId, progress, ...job }) => [castId, { ...job, stage: progress?.stage ?? null, done: progress?.done ?? null, of: progress?.of ?? null }]));
}
