import { eq, getTableColumns } from 'drizzle-orm';
import type { JobRow } from '@cast-to-last/runtime/jobs/jobs';
import type { Db } from '@cast-to-last/runtime/records/database';
import type { Refusal } from '@cast-to-last/runtime/records/json-types';
import { batches, casts, customers, orders, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { shownProgress } from './shown-progress.js';

/** What a job is about, for whoever looks after the queue. */
export interface JobAbout {
  readonly castId: string;
  readonly revisionNumber: number;
  readonly orderId: string;
  readonly orderNumber: string;
  readonly customerNumber: string | null;
  readonly side: 'left' | 'right';
  readonly batchId: string | null;
  readonly batchName: string | null;
  readonly refusal: Refusal | null;
}

/** Jobs with what they are about; the caller adds conditions. */
export const jobsAbout = (db: Db) =>
  db.select({
    ...getTableColumns(jobs), castId: revisions.castId, revisionNumber: revisions.number, orderId: casts.orderId, orderNumber: orders.number, customerNumber: customers.number,
    side: casts.side, batchId: revisions.batchId, batchName: batches.name, refusal: revisions.refusal,
  })
    .from(jobs).innerJoin(revisions, eq(revisions.id, jobs.subjectId)).innerJoin(casts, eq(casts.id, revisions.castId)).innerJoin(orders, eq(orders.id, casts.orderId))
    .leftJoin(customers, eq(customers.id, orders.customerId)).leftJoin(batches, eq(batches.id, revisions.batchId)).$dynamic();

/** A job without what only its worker has to know. A revision that was made anew has the refusal of its last job. */
export const shownJob = ({
  id, kind, subjectId, castId, revisionNumber, orderId, orderNumber, customerNumber, side, batchId, batchName, priority, lane, state, attempts, crashes, progress, cancelAsked, fault, refusal, story, createdAt, startedAt, endedAt,
}: JobRow & JobAbout) => ({
  id, kind, revisionId: subjectId, revisionNumber, castId, orderId, orderNumber, customerNumber, side, batchId, batchName, priority, lane, state, attempts, crashes,
  ...shownProgress(progress), cancelAsked, fault, refusal: state === 'refused' ? refusal : null, story, createdAt, startedAt, endedAt,
});
