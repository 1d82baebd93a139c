import type { JobRow } from '@cast-to-last/runtime/jobs/jobs';

/** A job without what only its worker has to know. */
export const shownJob = ({ id, kind, subjectId, castId, priority, lane, state, attempts, crashes, progress, cancelAsked, fault, story, createdAt, startedAt, endedAt }: JobRow & { castId: string }) =>
  ({ id, kind, revisionId: subjectId, castId, priority, lane, state, attempts, crashes, stage: progress?.stage ?? null, done: progress?.done ?? null, of: progress?.of ?? null, cancelAsked, fault, story, createdAt, startedAt, endedAt });
