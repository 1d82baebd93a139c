import { and, eq, gte, inArray, lte } from 'drizzle-orm';
import { z } from 'zod';
import { casts, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { newestFirst, oneOrMore, pageOf, searchQuery } from '../../http/page.js';
import { conflict, notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import type { Service } from '../../service.js';
import { foundBy } from '../orders/found-by.js';
import { jobsAbout, shownJob } from './shown-job.js';
import { JOB_STATES } from '@cast-to-last/runtime/records/states';

export const listJobs = route({
  method: 'get', path: '/jobs', summary: 'Jobs with the cast that they are about, newest first; `state` takes several, with commas.',
  query: z.strictObject({
    ...searchQuery, state: oneOrMore(JOB_STATES).optional(), side: z.enum(['left', 'right']).optional(), cast: z.uuid().optional(), batch: z.uuid().optional(),
  }),
  handle: async ({ service: { runtime: { records: { db } } }, query }) => {
    const { where, orderBy } = newestFirst(jobs, query);
    const rows = await jobsAbout(db).where(and(
      where,
      query.state === undefined ? undefined : inArray(jobs.state, query.state),
      query.side === undefined ? undefined : eq(casts.side, query.side),
      query.cast === undefined ? undefined : eq(revisions.castId, query.cast),
      query.batch === undefined ? undefined : eq(revisions.batchId, query.batch),
      query.from === undefined ? undefined : gte(jobs.createdAt, query.from),
      query.to === undefined ? undefined : lte(jobs.createdAt, query.to),
      foundBy(query.search),
    )).orderBy(...orderBy).limit(query.limit + 1);
    return { body: pageOf(rows, query, shownJob) };
  },
});

async function jobOf({ runtime: { records: { db } } }: Service, id: string) {
  const [row] = await jobsAbout(db).where(eq(jobs.id, id));
  if (row === undefined) throw notFound('job');
  return row;
}

export const readJob = route({
  method: 'get', path: '/jobs/:id', summary: 'One job.',
  handle: async ({ service, params: { id } }) => ({ body: shownJob(await jobOf(service, id)) }),
});

export const cancelJob = route({
  method: 'post', path: '/jobs/:id/cancel', summary: 'Cancels a job that waits, tells one that runs to stop; does nothing to one that ended.', status: 202,
  handle: async ({ service, by, params: { id } }) => {
    const { subjectId } = await jobOf(service, id);
    await service.runtime.records.change(by, 'job.cancelled', { table: 'revisions', id: subjectId }, (draft) => service.runtime.jobs.cancel(draft, id));
    return { status: 202, body: shownJob(await jobOf(service, id)) };
  },
});

export const retryJob = route({
  method: 'post', path: '/jobs/:id/retry', summary: 'Makes a result anew that failed, was set aside or was cancelled.', status: 202,
  handle: async ({ service, by, params: { id } }) => {
    const { subjectId, state: ended } = await jobOf(service, id);
    if (!['failed', 'set-aside', 'cancelled'].includes(ended)) throw conflict('nothing-to-retry', `The job is ${ended}.`, 'Only what failed, was set aside or was cancelled is made anew.');
    const { runtime } = service;
    const jobId = await runtime.records.change(by, 'revision.asked', { table: 'revisions', id: subjectId }, async (draft) => {
      const { castId, scanId, ruleSetId, decisionsId, origin, batchId } = await draft.expect('revisions', subjectId);
      const revision = await requestRevision(draft, runtime.jobs, { castId, scanId, ruleSetId, decisionsId, origin, ...(batchId !== null && { batchId }) });
      const [job] = await draft.tx.select({ id: jobs.id }).from(jobs).where(and(eq(jobs.subjectId, revision.id), eq(jobs.state, 'waiting')));
      return job?.id ?? id;
    });
    return { status: 202, body: shownJob(await jobOf(service, jobId)) };
  },
});
