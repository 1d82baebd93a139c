import type { JobRow } from '@cast-to-last/runtime/jobs/jobs';

/** How far a job is, as it is told. */
export const shownProgress = (progress: JobRow['progress']) => ({ stage: progress?.stage ?? null, done: progress?.done ?? null, of: progress?.of ?? null });
